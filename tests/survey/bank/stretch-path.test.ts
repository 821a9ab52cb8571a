import { expect, it } from "vitest";
import { stretchPath } from "../../../lib/survey/bank/stretch-path.js";

const centreline = {
  easting_m: Float64Array.of(0, 100, 100),
  northing_m: Float64Array.of(0, 0, 100),
  chainage_m: Float64Array.of(0, 100, 200),
  epsg: 32631,
  projection: "",
};

it("follows the bends between two chainages, and no others", () => {
  expect(stretchPath(centreline, { from_m: 50, to_m: 150 })).toEqual({
    easting_m: [50, 100, 100],
    northing_m: [0, 0, 50],
  });
  expect(stretchPath(centreline, { from_m: 100, to_m: 150 }).easting_m).toEqual([100, 100]);
});
