import { geometricFactor } from "../../lib/earth/spread.js";
import { seededRandom } from "../../lib/numerics/random.js";
import {
  positionsOf,
  type SectionElectrode,
  type SectionSpread,
} from "../../lib/sections/section-input.js";
import type { ResistivityLine } from "../../lib/survey/resistivity-line.js";

/** Electrodes a metre apart on level ground, or at given elevations. */
export function electrodesAt(
  count: number,
  elevation_m: (x_m: number) => number = () => 0,
): SectionElectrode[] {
  return Array.from({ length: count }, (_, x_m) => ({ x_m, elevation_m: elevation_m(x_m) }));
}

/** Wenner α spreads of the given sizes, in spacings. */
export function wennerSpreads(count: number, sizes: readonly number[]): SectionSpread[] {
  return sizes.flatMap((k) =>
    Array.from({ length: Math.max(0, count - 3 * k) }, (_, i) => {
      return { a: i + 1, b: i + 1 + 3 * k, m: i + 1 + k, n: i + 1 + 2 * k };
    }),
  );
}

/** Dipoles of one spacing, n spacings apart. */
export function dipoleSpreads(count: number, levels: readonly number[]): SectionSpread[] {
  return levels.flatMap((n) =>
    Array.from({ length: count - 2 - n }, (_, i) => {
      return { a: i + 2, b: i + 1, m: i + 2 + n, n: i + 3 + n };
    }),
  );
}

export interface NoisyLine {
  readonly electrodes: readonly SectionElectrode[];
  readonly spreads: readonly SectionSpread[];
  /** ohm-m, one a spread, without noise. */
  readonly apparent_ohm_m: readonly number[];
  /** Standard deviation of ln V. */
  readonly noise: number;
  readonly seed: number;
  /** Readings of which a reciprocal is measured too; default 30. */
  readonly reciprocals?: number;
  readonly campaign?: string;
}

/** A line as it is measured: 100 mA, noisy voltages, stacking deviations of half the noise. */
export function measuredAs(given: NoisyLine): ResistivityLine {
  const { electrodes, spreads, apparent_ohm_m, noise, seed, reciprocals = 30 } = given;
  const random = seededRandom(seed);
  const reading = (spread: SectionSpread, index: number, row: number) => {
    const ohm = apparent_ohm_m[index]! / geometricFactor(positionsOf(spread, electrodes));
    return {
      ...{ row, ...spread, current_mA: 100, repeat: null, campaign: given.campaign ?? "2031-10" },
      voltage_mV: 100 * ohm * Math.exp(noise * random.normal()),
      deviation_pct: 50 * noise * (0.7 + 0.6 * random.uniform()),
    };
  };
  const once = spreads.map((spread, i) => reading(spread, i, i + 2));
  const again = Array.from({ length: reciprocals }, (_, k) => {
    const index = random.integer(spreads.length);
    const { a, b, m, n } = spreads[index]!;
    return reading({ a: m, b: n, m: a, n: b }, index, spreads.length + k + 2);
  });
  return {
    line: "T1",
    runs: "along",
    chainage_m: 100,
    offset_m: 0,
    electrodes: electrodes.map((place, i) => ({ electrode: i + 1, ...place })),
    readings: [...once, ...again],
  };
}
