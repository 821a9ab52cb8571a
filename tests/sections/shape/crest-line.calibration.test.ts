import { describe, expect, it } from "vitest";
import { embankmentFactors } from "../../../lib/sections/embankment-factor.js";
import { invertSection } from "../../../lib/sections/invert-section.js";
import type { Section } from "../../../lib/sections/section.js";
import { positionsOf } from "../../../lib/sections/section-input.js";
import { crestResponse } from "../../../lib/sections/shape/crest-response.js";
import {
  dipoleSpreads,
  electrodesAt,
  measuredAs,
  wennerSpreads,
} from "../../support/electrode-lines.js";
import { expectClose } from "../../support/expect-close.js";

const COUNT = 24;
const electrodes = electrodesAt(COUNT);
const spreads = [
  ...wennerSpreads(COUNT, [1, 2, 3, 4, 5, 6, 7]),
  ...dipoleSpreads(COUNT, [1, 2, 3]),
];
const places = spreads.map((spread) => positionsOf(spread, electrodes));
const shape = { crestWidth_m: 4, height_m: 4, watersideSlope: 2, landsideSlope: 2, offset_m: 0 };
const quick = { draws: 80 };

/** Median resistivity of the reliable cells whose middle lies between two depths, ohm-m. */
function rowMeans({ cells }: Section, from_m = 0, to_m = Infinity) {
  const { depth_m, reliable, p50_ohm_m } = cells;
  const down = depth_m.length - 1;
  return Array.from({ length: down - 1 }, (_, row) => {
    const middle = (depth_m[row]! + depth_m[row + 1]!) / 2;
    const own = Array.from(p50_ohm_m).filter((_, c) => c % down === row && reliable[c] === 1);
    const mean = Math.exp(own.reduce((sum, value) => sum + Math.log(value), 0) / own.length);
    return middle > from_m && middle < to_m && own.length > 3 ? mean : Number.NaN;
  }).filter(Number.isFinite);
}

describe("a line along the crest of a homogeneous embankment of 50 ohm-m", () => {
  const apparent_ohm_m = embankmentFactors(shape, places).map((factor) => 50 * factor);
  const line = measuredAs({ electrodes, spreads, apparent_ohm_m, noise: 0.005, seed: 3 });

  it("shows false structure without the shape, and none with it", async () => {
    const without = rowMeans((await invertSection(line, quick)).value);
    const shaped = rowMeans((await invertSection(line, { ...quick, shape })).value);
    const structure = (rows: readonly number[]) => Math.max(...rows) / Math.min(...rows) - 1;
    expect(structure(without)).toBeGreaterThan(0.15);
    expect(structure(shaped)).toBeLessThan(0.04);
    for (const value of shaped) expectClose(value, 50, { relative: 0.03 });
  });
});

describe("the same with a core of 15 ohm-m, 3 m wide, from 1 m down", () => {
  const surface = [
    { x_m: -10, elevation_m: 0 },
    { x_m: -2, elevation_m: 4 },
    { x_m: 0, elevation_m: 4 },
    { x_m: 2, elevation_m: 4 },
    { x_m: 10, elevation_m: 0 },
  ];
  const bank = (core: number) => {
    const body = [50, core, 50];
    const earth = {
      x_m: [-20, -1.5, 1.5, 20],
      depth_m: [0, 1, 6, 10],
      resistivity_ohm_m: [[50, 50, 50], body, [50, 50, 50]],
    };
    return { earth, surface, line: 2 };
  };
  const line = measuredAs({
    ...{ electrodes, spreads, noise: 0.01, seed: 3 },
    apparent_ohm_m: crestResponse(bank(15), places),
  });
  const coreOf = async (options: Parameters<typeof invertSection>[1]) => {
    const rows = rowMeans((await invertSection(line, { ...quick, ...options })).value, 1.5, 4);
    return Math.exp(rows.reduce((sum, value) => sum + Math.log(value), 0) / rows.length);
  };

  it("gives the core's resistivity within 5 % with its cross-section, found step by step", async () => {
    // What is assumed of the core at first is wrong by two thirds; what is found is put in again.
    // The faces of the cross-section are known with it: smoothed over, they leave the core at 12.8.
    const breaks = [{ elevation_m: -1 }, { elevation_m: -6 }];
    let core = 25;
    for (let step = 0; step < 4; step++) core = await coreOf({ crossSection: bank(core), breaks });
    expectClose(core, 15, { relative: 0.05 });
    const level = await coreOf({});
    const shaped = await coreOf({ shape });
    // The narrow core shows too resistive in a section; the factor of an even bank does not mend it.
    expect(level).toBeGreaterThan(1.15 * 15);
    expect(shaped).toBeGreaterThan(1.15 * 15);
  });
});
