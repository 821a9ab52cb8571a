import { describe, expect, it } from "vitest";
import { spreadResponse } from "../../lib/earth/spread-response.js";
import { invertSection } from "../../lib/sections/invert-section.js";
import type { Section } from "../../lib/sections/section.js";
import { positionsOf } from "../../lib/sections/section-input.js";
import { sectionResponse } from "../../lib/sections/section-response.js";
import {
  dipoleSpreads,
  electrodesAt,
  measuredAs,
  wennerSpreads,
} from "../support/electrode-lines.js";
import { expectClose } from "../support/expect-close.js";

const COUNT = 20;
const level = electrodesAt(COUNT);
const spreads = [
  ...wennerSpreads(COUNT, [1, 2, 3, 4, 5, 6]),
  ...dipoleSpreads(COUNT, [1, 2, 3, 4]),
];
const quick = { draws: 80 };

/** A line over layers, 1 % noise. */
function overLayers(resistivity_ohm_m: readonly number[], thickness_m: readonly number[]) {
  const earth = { resistivity_ohm_m, thickness_m };
  const apparent_ohm_m = spreads.map((spread) => spreadResponse(earth, positionsOf(spread, level)));
  return measuredAs({ electrodes: level, spreads, apparent_ohm_m, noise: 0.01, seed: 4 });
}

/** Resistivity of the reliable cells whose middle lies between two depths, ohm-m. */
function between({ cells }: Section, top: number, base: number) {
  const { depth_m, reliable, p50_ohm_m } = cells;
  const down = depth_m.length - 1;
  return Array.from(p50_ohm_m).filter((_, cell) => {
    const row = cell % down;
    const middle = (depth_m[row]! + depth_m[row + 1]!) / 2;
    return reliable[cell] === 1 && middle > top && middle < base && row < down - 1;
  });
}

const mean = (values: readonly number[]) =>
  Math.exp(values.reduce((sum, value) => sum + Math.log(value), 0) / values.length);

describe("invertSection on ground of known resistivity", () => {
  it("recovers two and three layers", async () => {
    const at = (depth_m: number) => ({ elevation_m: -depth_m });
    const two = overLayers([100, 10], [2]);
    const free = (await invertSection(two, quick)).value;
    expectClose(mean(between(free, 0, 1.3)), 100, { relative: 0.05 });
    // The smooth norm rounds a jump of ten off into an overshoot below it.
    expectClose(mean(between(free, 3, 8)), 10, { relative: 0.3 });
    const known = (await invertSection(two, { ...quick, breaks: [at(2)] })).value;
    expectClose(mean(between(known, 0, 2)), 100, { relative: 0.02 });
    expectClose(mean(between(known, 2, 8)), 10, { relative: 0.08 });
    const three = overLayers([100, 10, 100], [1.5, 3]);
    const layered = (await invertSection(three, { ...quick, breaks: [at(1.5), at(4.5)] })).value;
    expectClose(mean(between(layered, 0, 1.5)), 100, { relative: 0.03 });
    expectClose(mean(between(layered, 1.5, 4.5)), 10, { relative: 0.1 });
    for (const { rms } of [free, known, layered]) {
      expect(rms).toBeGreaterThan(0.85);
      expect(rms).toBeLessThan(1.15);
    }
  });

  it("recovers homogeneous ground under rough topography within 1 %", async () => {
    const electrodes = electrodesAt(
      COUNT,
      (x) => 1.5 * Math.sin(x / 2.5) + 0.4 * Math.sin(2.2 * x),
    );
    const earth = { x_m: [0, COUNT], depth_m: [0, 5], resistivity_ohm_m: [[40]] };
    const apparent_ohm_m = sectionResponse(earth, electrodes, spreads, { cellsPerSpacing: 5 });
    const line = measuredAs({ electrodes, spreads, apparent_ohm_m, noise: 0.002, seed: 6 });
    const { value } = await invertSection(line, { ...quick, modelError: 0.005 });
    // Straight over such ground the readings themselves range over tens of per cent.
    const spread = Math.max(...apparent_ohm_m) / Math.min(...apparent_ohm_m);
    expect(spread).toBeGreaterThan(1.3);
    const known = between(value, 0, 4);
    expect(known.length).toBeGreaterThan(50);
    expectClose(mean(known), 40, { relative: 0.01 });
  });
});
