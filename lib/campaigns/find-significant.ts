import { normalTwoSided } from "../numerics/normal.js";
import { madScale, median } from "../numerics/robust.js";
import { falseDiscoveryAdjusted } from "./false-discovery.js";
import { type Smoothed, slopes, smoothed } from "./smooth.js";

/** What is tested, for each slice n stations. */
export interface Differences {
  readonly difference: readonly Float64Array[];
  /** Standard deviations of the differences. */
  readonly sd: readonly Float64Array[];
  /** Means of the two campaigns. */
  readonly mean: readonly Float64Array[];
}

export interface SignificanceOptions {
  readonly level: "majority" | "none";
  readonly q: number;
  /** Stations of the moving mean, odd. */
  readonly window: number;
  /** Standard deviation of the mismatch of positions between campaigns, stations. */
  readonly mismatch: number;
}

/** Differences between campaigns, levelled and smoothed, and what stands out of the scatter. */
export interface Significance {
  /** For each slice, the level that was taken off, log10. */
  readonly level: readonly number[];
  /** For each slice, n smoothed differences; NaN where unknown. */
  readonly difference: readonly Float64Array[];
  /** For each slice, n standard deviations of these, the scatter along the line included. */
  readonly sd: readonly Float64Array[];
  /** For each slice, n two-sided p-values. */
  readonly p: readonly Float64Array[];
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
 * A smoothed difference's standard deviation has two parts. One is the propagated error × the
 * robust scale of the standardised smoothed differences over stable stations, where that is above
 * 1: neighbouring errors are correlated, and a mean over them is less certain than if they were
 * not. The other is what a mismatch of positions makes of the ground's slope along the line.
 */
export function findSignificant(given: Differences, options: SignificanceOptions): Significance {
  const mismatch = given.mean.map((column, k) => mismatchSd(column, given.sd[k]!, options));
  let stable = given.difference.map((column) => column.map((v) => (Number.isNaN(v) ? 0 : 1)));
  let found = testOnce(given, { ...options, stable, mismatchSd: mismatch });
  for (let round = 1; round < ROUNDS; round++) {
    const next = found.adjusted.map((p) => p.map((value) => (value > options.q ? 1 : 0)));
    if (same(next, stable)) break;
    stable = next;
    found = testOnce(given, { ...options, stable, mismatchSd: mismatch });
  }
  return found;
}

interface Round extends SignificanceOptions {
  /** For each slice, n entries: 1 where the station is taken for stable. */
  readonly stable: readonly Float64Array[];
  readonly mismatchSd: readonly Float64Array[];
}

function testOnce(given: Differences, round: Round): Significance {
  const slices = given.difference.map((column, k) => {
    const stable = round.stable[k]!;
    const level = round.level === "majority" ? median(kept(column, stable)) || 0 : 0;
    const levelled = column.map((value) => value - level);
    const own = smoothed(levelled, given.sd[k]!, round.window);
    const scatter = scatterOf(own, stable);
    const sd = own.sd.map((value, i) => Math.hypot(scatter * value, round.mismatchSd[k]![i]!));
    return { level, value: own.value, sd, scatter };
  });
  const p = slices.map((slice) => pValues(slice.value, slice.sd));
  return {
    p,
    level: slices.map((slice) => slice.level),
    difference: slices.map((slice) => slice.value),
    sd: slices.map((slice) => slice.sd),
    adjusted: adjustedTogether(p),
    scatter: slices.map((slice) => slice.scatter),
  };
}

/** A shift along the line by d stations changes a moving mean by d × its slope. */
function mismatchSd(mean: Float64Array, sd: Float64Array, options: SignificanceOptions) {
  const slope = slopes(smoothed(mean, sd, options.window).value);
  return slope.map((value) => (Number.isNaN(value) ? 0 : Math.abs(value) * options.mismatch));
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
