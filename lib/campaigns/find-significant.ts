import { normalTwoSided } from "../numerics/normal.js";
import { madScale, median } from "../numerics/robust.js";
import { falseDiscoveryAdjusted } from "./false-discovery.js";
import { type Smoothed, smoothed } from "./smooth.js";

export interface SignificanceOptions {
  readonly level: "majority" | "none";
  readonly q: number;
  /** Stations of the moving mean, odd. */
  readonly window: number;
}

/** Differences between campaigns, levelled and smoothed, and what stands out of the scatter. */
export interface Significance {
  /** For each slice, the level that was taken off, log10. */
  readonly level: readonly number[];
  /** For each slice, n smoothed differences; NaN where unknown. */
  readonly difference: readonly Float64Array[];
  /** For each slice, n standard deviations of these, the scatter along the line included. */
  readonly sd: readonly Float64Array[];
  /** For each slice, n false-discovery-adjusted p-values over all stations and slices. */
  readonly adjusted: readonly Float64Array[];
  /** For each slice, how many times the propagated error the scatter of the smoothed differences is. */
  readonly scatter: readonly number[];
}

const ROUNDS = 12;

/**
 * Tests every station and slice against no change. Level and scatter come from the stations that
 * do not stand out, so they are found by repetition: everything is taken for stable at first, and
 * what stands out is left out of the next round, until nothing moves (12 rounds at most).
 *
 * A smoothed difference's standard deviation is the propagated one × the robust scale of the
 * standardised smoothed differences over stable stations, where that is above 1: neighbouring
 * errors are correlated, and a mean over them is then less certain than if they were not.
 */
export function findSignificant(
  difference: readonly Float64Array[],
  sd: readonly Float64Array[],
  options: SignificanceOptions,
): Significance {
  let stable = difference.map((column) => column.map((value) => (Number.isNaN(value) ? 0 : 1)));
  let found = testOnce(difference, sd, { ...options, stable });
  for (let round = 1; round < ROUNDS; round++) {
    const next = found.adjusted.map((p) => p.map((value) => (value > options.q ? 1 : 0)));
    if (same(next, stable)) break;
    stable = next;
    found = testOnce(difference, sd, { ...options, stable });
  }
  return found;
}

function testOnce(
  difference: readonly Float64Array[],
  sd: readonly Float64Array[],
  options: SignificanceOptions & { readonly stable: readonly Float64Array[] },
): Significance {
  const { window } = options;
  const slices = difference.map((column, k) => {
    const stable = options.stable[k]!;
    const level = options.level === "majority" ? median(kept(column, stable)) || 0 : 0;
    const mean = smoothed(
      column.map((value) => value - level),
      sd[k]!,
      window,
    );
    return { level, ...mean, scatter: scatterOf(mean, stable) };
  });
  const spread = slices.map((slice) => slice.sd.map((value) => value * slice.scatter));
  return {
    level: slices.map((slice) => slice.level),
    difference: slices.map((slice) => slice.value),
    sd: spread,
    adjusted: adjustedTogether(slices.map((slice, k) => pValues(slice.value, spread[k]!))),
    scatter: slices.map((slice) => slice.scatter),
  };
}

function scatterOf(mean: Smoothed, stable: Float64Array): number {
  const standardised = mean.value.map((value, i) => value / mean.sd[i]!);
  return Math.max(1, madScale(kept(standardised, stable)) || 1);
}

const kept = (column: Float64Array, stable: Float64Array) =>
  column.map((value, i) => (stable[i] === 1 ? value : Number.NaN));

const pValues = (value: Float64Array, sd: Float64Array) =>
  value.map((v, i) => normalTwoSided(v / sd[i]!));

/** All slices adjusted as one family of tests. */
function adjustedTogether(p: readonly Float64Array[]): Float64Array[] {
  const n = p[0]?.length ?? 0;
  const all = new Float64Array(n * p.length);
  p.forEach((column, k) => all.set(column, k * n));
  const adjusted = falseDiscoveryAdjusted(all);
  return p.map((_, k) => adjusted.slice(k * n, (k + 1) * n));
}

function same(one: readonly Float64Array[], other: readonly Float64Array[]): boolean {
  return one.every((column, k) => column.every((value, i) => value === other[k]![i]));
}
