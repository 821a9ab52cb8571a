import { describe, expect, it } from "vitest";
import type { Section } from "../../../lib/sections/section.js";
import { waterText } from "../../../lib/sections/water/water-text.js";

const electrodes = [
  { electrode: 1, x_m: 0, elevation_m: 3 },
  { electrode: 2, x_m: 5, elevation_m: 5 },
  { electrode: 3, x_m: 9, elevation_m: 4 },
];
const line = { line: "A", runs: "across", electrodes, water: null } as unknown as Section;
const cover = (level_m: number) => ({ level_m, from_m: 5, bed: [] });

describe("what an account says of water beside a line", () => {
  it("is nothing along the bank, and a caution across where no level is known", () => {
    const used = { water: null, includeWater: true };
    expect(waterText({ ...line, runs: "along" }, used)).toBe("");
    expect(waterText(line, used)).toContain("No water level of the day is known for line A");
  });

  it("is its size where it is in the section", () => {
    const water = { level_m: 4.5, resistivity_ohm_m: 22, electrodes: 0 };
    const beside = { ...line, water: { ...water, factors: [0.93, 1.012] } } as Section;
    const used = { water: cover(4.5), includeWater: true };
    expect(waterText(beside, used)).toContain(
      "Water at 4.50 m, of 22 ohm-m, beyond the line's end, changes the readings by -7 to 1 %",
    );
    const over = { ...line, water: { ...water, electrodes: 2, factors: [0.5, 1.1] } } as Section;
    const text = waterText(over, used);
    expect(text).toContain("over 2 electrodes and on, changes the readings by -50 to 10 %");
    expect(text).toContain("it is to be measured");
  });

  it("says where it was left out, and where it lies below all known ground", () => {
    const left = (level_m: number) => ({ water: cover(level_m), includeWater: false });
    expect(waterText(line, left(4.5))).toContain("Water over electrodes is left out by choice");
    // The first electrode lies lower, on the dry side.
    expect(waterText(line, left(3.5))).toContain("Water beside the line is left out by choice");
    expect(waterText(line, { water: cover(2), includeWater: true })).toContain(
      "At 2.00 m the water lay below all ground that is known along line A",
    );
  });
});
