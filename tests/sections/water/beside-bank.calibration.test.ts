import { describe, expect, it } from "vitest";
import { neighbours } from "../../../lib/numerics/arrays.js";
import { invertSection } from "../../../lib/sections/invert-section.js";
import type { Section } from "../../../lib/sections/section.js";
import type { InvertSectionOptions } from "../../../lib/sections/section-options.js";
import { sectionResponse } from "../../../lib/sections/section-response.js";
import { dipoleSpreads, measuredAs, wennerSpreads } from "../../support/electrode-lines.js";
import { expectClose } from "../../support/expect-close.js";

/** A bank of 3.8 m across, from an offset on, 0.75 m from electrode to electrode. */
const COUNT = 26;
const SPACING_M = 0.75;
const END_M = (COUNT - 1) * SPACING_M;
const LEVEL_M = 4;
const GROUND = [60, 35] as const;
const COVER_M = 1;
const spreads = [
  ...wennerSpreads(COUNT, [1, 2, 3, 4, 5, 6, 8]),
  ...dipoleSpreads(COUNT, [1, 2, 3, 4]),
];

function elevationAt(offset_m: number): number {
  return Math.max(2.4, 6.2 - Math.max(0, Math.abs(offset_m) - 2) / (offset_m > 0 ? 3 : 2.5));
}

const electrodesFrom = (first_m: number) =>
  Array.from({ length: COUNT }, (_, i) => ({
    ...{ x_m: i * SPACING_M, elevation_m: elevationAt(first_m + i * SPACING_M) },
  }));

/** Two layers that hang from the surface, and the river on the waterside. */
function earthWith(first_m: number, resistivity_ohm_m: number | null) {
  const ground = {
    ...{ x_m: [0, END_M], depth_m: [0, COVER_M, 5] },
    resistivity_ohm_m: GROUND.map((value) => [value]),
  };
  if (resistivity_ohm_m === null) return ground;
  return { ...ground, water: { ...coverAt(first_m), resistivity_ohm_m } };
}

function coverAt(first_m: number) {
  return { level_m: LEVEL_M, from_m: -first_m, bed: [{ x_m: 13.4 - first_m, elevation_m: 2.4 }] };
}

/**
 * The same by another way: the surface is the water's, which hides the bed, and the water is
 * a staircase of cells under it.
 */
function asStairs(first_m: number, water_ohm_m: number): number[] {
  const shore = 2 + (6.2 - LEVEL_M) * 3 - first_m;
  const foot = 13.4 - first_m;
  const surface = [
    ...electrodesFrom(first_m),
    { x_m: shore, elevation_m: LEVEL_M },
    { x_m: shore + 20, elevation_m: LEVEL_M },
  ];
  const steps = (from: number, to: number, count: number) =>
    Array.from({ length: count }, (_, i) => from + ((to - from) * (i + 1)) / count);
  const x_m = [-1, shore, ...steps(shore, foot, 24), foot + 5];
  const depth_m = [0, ...steps(0, 1.6, 32), ...steps(1.6, 2.8, 12), 5];
  const middles = (edges: readonly number[]) => neighbours(edges).map(([p, q]) => (p + q) / 2);
  const resistivity_ohm_m = middles(depth_m).map((z) =>
    middles(x_m).map((x) => {
      const bed = Math.max(2.4, Math.min(LEVEL_M, LEVEL_M - (x - shore) / 3));
      const over = x < shore ? 0 : LEVEL_M - bed;
      return z < over ? water_ohm_m : GROUND[z - over < COVER_M ? 0 : 1];
    }),
  );
  return sectionResponse({ x_m, depth_m, resistivity_ohm_m }, surface, spreads);
}

describe("a line across that ends 0.9 m before the water's edge", () => {
  it("reads what a staircase of water cells gives, and 5 % off what a dry bed gives", () => {
    const first_m = -11.5;
    const electrodes = electrodesFrom(first_m);
    const wet = sectionResponse(earthWith(first_m, 10), electrodes, spreads);
    const dry = sectionResponse(earthWith(first_m, null), electrodes, spreads);
    // Steps of 0.2 × 0.05 m stand for a slope: halving them halves the difference.
    for (const [i, value] of asStairs(first_m, 10).entries()) {
      expectClose(wet[i]!, value, { relative: 0.006 });
    }
    expect(Math.max(...wet.map((value, i) => Math.abs(value / dry[i]! - 1)))).toBeGreaterThan(0.05);
  });
});

/** Error of reliable cells in the last 4 m under the line, away from the layers' face. */
function errorsNearEnd({ cells }: Section) {
  const down = cells.depth_m.length - 1;
  const middle = (edges: readonly number[], i: number) => (edges[i]! + edges[i + 1]!) / 2;
  const errors = Array.from(cells.log10Resistivity).flatMap((value, c) => {
    const x = middle(cells.x_m, Math.floor(c / down));
    const z = middle(cells.depth_m, c % down);
    const isSeen = cells.reliable[c] === 1 && x > END_M - 4 && x < END_M + 1;
    if (!isSeen || Math.abs(z - COVER_M) < 0.3) return [];
    return [value - Math.log10(GROUND[z < COVER_M ? 0 : 1])];
  });
  const square = errors.reduce((sum, error) => sum + error ** 2, 0) / errors.length;
  const worst = Math.max(...errors.map(Math.abs));
  return { typical: 10 ** Math.sqrt(square), worst: 10 ** worst };
}

describe("a line across whose last two electrodes lie under 0.6 m of water of 22 ohm-m", () => {
  const first_m = -9;
  const electrodes = electrodesFrom(first_m);
  const apparent_ohm_m = sectionResponse(earthWith(first_m, 22), electrodes, spreads, {
    cellsPerSpacing: 5,
  });
  const measured = measuredAs({ electrodes, spreads, apparent_ohm_m, noise: 0.02, seed: 5 });
  const line = { ...measured, runs: "across" as const };
  const inverted = (options: Partial<InvertSectionOptions>) =>
    invertSection(line, { draws: 80, ...options });

  it("shows ground of less than half its resistivity without the water, 15 % off with it", async () => {
    const without = await inverted({});
    const water = coverAt(first_m);
    const within = await inverted({ water, waterResistivity_ohm_m: 22 });
    const usual = await inverted({ water });
    expect(errorsNearEnd(without.value).worst).toBeGreaterThan(2);
    expect(errorsNearEnd(within.value).worst).toBeLessThan(1.2);
    expect(errorsNearEnd(within.value).typical).toBeLessThan(1.1);
    // The default of 30 ohm-m is a third too much here: worse than measured, better than air.
    expect(errorsNearEnd(usual.value).worst).toBeLessThan(1.45);
    // No misfit tells: all three explain the readings.
    for (const { value } of [without, within, usual]) expect(value.rms).toBeLessThan(1.1);
    const said = within.cautions.map(({ text }) => text).join(" ");
    expect(within.value.water?.electrodes).toBe(2);
    expect(said).toMatch(/over 2 electrodes and on, changes the readings by -\d+ to \d+ %/);
    const asked = await inverted({ water, includeWater: false });
    expect(asked.value.cells).toEqual(without.value.cells);
  });
});
