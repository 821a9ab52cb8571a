import { describe, expect, it } from "vitest";
import { groupOption } from "../../../lib/step/options/kinds.js";
import { listOption } from "../../../lib/step/options/list.js";
import { numberOption } from "../../../lib/step/options/number.js";

const point = groupOption(
  { x: numberOption({ default: 0, above: 0, unit: "m", meaning: "Its place." }) },
  { meaning: "A point." },
);
const points = listOption(point, { default: [], meaning: "Points." });

describe("listOption", () => {
  it("takes a list of sound values, the empty one too", () => {
    expect(points.faults([], "options.points")).toEqual([]);
    expect(points.faults([{ x: 1 }, { x: 2 }], "options.points")).toEqual([]);
  });

  it("names every value that is not", () => {
    expect(points.faults([{ x: 1 }, { x: -2 }, null], "options.points")).toMatchObject([
      { code: "option-range", path: "options.points[1].x", expected: "a number above 0 m" },
      { code: "option-value", path: "options.points[2]", expected: "an object of x" },
    ]);
  });

  it("refuses what is no list", () => {
    expect(points.faults("x", "options.points")).toMatchObject([
      { code: "option-value", path: "options.points", expected: "a list, each an object of x" },
    ]);
  });
});
