import { describe, expect, it } from "vitest";
import { stationColumns } from "../../../lib/step/data-frame/station-columns.js";

const chainage_m = Float64Array.of(0, 5, 10);
const columns = (value: Parameters<typeof stationColumns>[0]) =>
  Object.fromEntries(stationColumns(value));

describe("stationColumns", () => {
  it("has a column for each field of n entries and for each slice of those by slice", () => {
    const value = {
      ...{ campaign: "2031-10", rms: 1.2, chainage_m },
      slices: [
        { top_m: 0, base_m: 1 },
        { top_m: 1, base_m: 2.5 },
      ],
      sd: [Float64Array.of(1, 2, 3), Float64Array.of(4, 5, 6)],
      gap: ["", "set aside", ""],
      level: [0.1, 0.2],
      averaging: [[chainage_m, chainage_m], [chainage_m]],
      layers: { sd: new Float64Array(6) },
    };
    expect(columns(value)).toEqual({
      chainage_m: [0, 5, 10],
      "sd_0.0-1.0": [1, 2, 3],
      "sd_1.0-2.5": [4, 5, 6],
      gap: ["", "set aside", ""],
    });
  });

  it("has a column for each name of named records", () => {
    const pieces = [
      { name: "thin blanket", value: Float64Array.of(0, 1, Number.NaN), note: "a" },
      { name: "structure", value: Float64Array.of(1, 1, 1) },
    ];
    expect(columns({ chainage_m, pieces } as never)).toEqual({
      chainage_m: [0, 5, 10],
      "pieces_thin blanket_value": [0, 1, Number.NaN],
      pieces_structure_value: [1, 1, 1],
    });
  });

  it("takes plain lists for chainage and leaves records without a name out", () => {
    const value = { chainage_m: [1, 2], zones: [{ rank: 1 }, null], score: [3, 4] };
    expect(columns(value)).toEqual({ chainage_m: [1, 2], score: [3, 4] });
  });
});
