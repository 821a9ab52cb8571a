import { describe, expect, it } from "vitest";
import { waterBeside } from "../../../lib/sections/water/water-beside.js";
import type { ResistivityLine } from "../../../lib/survey/resistivity-line.js";
import { riverLevelAt } from "../../../lib/survey/river-level.js";
import type { Survey } from "../../../lib/survey/survey.js";

const DAY_S = 86_400;

const walked = (label: string, time_s: number) =>
  ({ label, passes: [{ time_s: Float64Array.of(Number.NaN, time_s) }] }) as never;

const survey = {
  campaigns: [walked("low", 0), walked("high", 100 * DAY_S), walked("dry", 300 * DAY_S)],
  waterLevels: [
    { time_s: -2 * DAY_S, point: "river", level_m: 1.9, chainage_m: null },
    { time_s: -DAY_S, point: "river", level_m: 1.8, chainage_m: null },
    { time_s: 0, point: "P1", level_m: 3, chainage_m: 10 },
    { time_s: 106 * DAY_S, point: "river", level_m: 4.4, chainage_m: null },
    { time_s: 292.9 * DAY_S, point: "river", level_m: 2, chainage_m: null },
  ],
  waterside: "left",
  crossSectionAt: () => ({
    crestWidth_m: 4,
    crestElevation_m: 6,
    foundationElevation_m: 2,
    watersideSlope: 3,
    landsideSlope: 2,
  }),
} as unknown as Survey;

/** A line across from the landside toe up the bank and over the crest to an offset. */
function across(to_m: number, campaign: string | null): ResistivityLine {
  const offsets = Array.from({ length: to_m + 11 }, (_, i) => i - 10);
  const elevation_m = (offset: number) =>
    Math.max(2, 6 - Math.max(0, Math.abs(offset) - 2) / (offset > 0 ? 3 : 2));
  const electrodes = offsets.map((offset, i) => ({
    ...{ electrode: i + 1, x_m: offset + 10, elevation_m: elevation_m(offset) },
  }));
  const readings = [{ campaign } as never];
  return { line: "A", runs: "across", chainage_m: 50, offset_m: -10, electrodes, readings };
}

describe("riverLevelAt", () => {
  it("is the river's nearest level within seven days of the first reading", () => {
    expect(riverLevelAt(survey, "low")).toBe(1.8);
    expect(riverLevelAt(survey, "high")).toBe(4.4);
    expect(riverLevelAt(survey, "dry")).toBeNaN();
    expect(riverLevelAt(survey, "unknown")).toBeNaN();
  });
});

describe("waterBeside", () => {
  it("is the level of the line's day, from the crest on, over the slope down to the ground", () => {
    const line = across(5, "high");
    const given = waterBeside(line, survey);
    expect(given).toEqual({
      level_m: 4.4,
      // The first of the crest's electrodes, which are level.
      from_m: 8,
      // At offset 5 the slope is at 5 m: three metres of it, one for three, are left.
      bed: [{ x_m: 24, elevation_m: 2 }],
    });
    expect(waterBeside(across(5, null), survey)?.level_m).toBe(1.8);
    expect(waterBeside(across(5, null), survey, { campaign: "high" })?.level_m).toBe(4.4);
  });

  it("goes over the rest of the crest first, and no further down than the ground", () => {
    expect(waterBeside(across(1, "high"), survey)?.bed).toEqual([
      { x_m: 12, elevation_m: 6 },
      { x_m: 24, elevation_m: 2 },
    ]);
    expect(waterBeside(across(16, "high"), survey)?.bed).toEqual([]);
    const right = { ...survey, waterside: "right" } as Survey;
    const mirrored = { ...across(1, "high"), offset_m: 10 };
    expect(waterBeside(mirrored, right)?.bed).toEqual(waterBeside(across(1, "high"), survey)?.bed);
  });

  it("is null along the bank and where no level is known", () => {
    expect(waterBeside({ ...across(5, "high"), runs: "along" }, survey)).toBeNull();
    expect(waterBeside(across(5, "dry"), survey)).toBeNull();
    expect(waterBeside({ ...across(5, "high"), electrodes: [] }, survey)).toBeNull();
  });
});
