import { firstOf, itemAt, zipped } from "../../numerics/arrays.js";
import { huberScale } from "../../numerics/statistics/huber-scale.js";
import { normalTwoSided } from "../../numerics/statistics/normal.js";
import { madScale, median } from "../../numerics/statistics/robust.js";
import { falseDiscoveryAdjusted } from "../false-discovery.js";
import { type Smoothed, slopes, smoothed } from "../smooth.js";

/** What is tested, for each slice n stations. */
export interface Differences {
  readonly difference: readonly Float64Array[];
  /** Standard deviations of the differences. */
  readonly sd: readonly Float64Array[];
  /** Means of the two campaigns. */
  readonly mean: readonly Float64Array[];
}

interface SignificanceOptions {
  readonly level: "majority" | "none";
  readonly q: number;
  /** Stations of the moving means that are tested, odd; the first one's mean is handed on. */
  readonly windows: readonly number[];
  /** n standard deviations of the mismatch of positions between campaigns, stations. */
  readonly mismatch: Float64Array;
}

/** Differences between campaigns, levelled and smoothed, and what stands out of the scatter. */
export interface Significance {
  /** For each slice, the level that was taken off, log10. */
  readonly level: readonly number[];
  /** For each slice, n differences less the level, not smoothed. */
  readonly levelled: readonly Float64Array[];
  /** For each slice, n entries: 1 where the station was taken for stable. */
  readonly stable: readonly Float64Array[];
  /** For each slice, n smoothed differences; NaN where unknown. */
  readonly difference: readonly Float64Array[];
  /** For each slice, n standard deviations of these, the scatter along the line included. */
  readonly sd: readonly Float64Array[];
  /** For each slice, n two-sided p-values. */
  readonly p: readonly Float64Array[];
  /** For each slice, n false-discovery-adjusted p-values over all stations and slices. */
  readonly adjusted: readonly Float64Array[];
  /** For each slice, the scatter of the smoothed differences over their propagated error. */
  readonly scatter: readonly number[];
}

const ROUNDS = 12;

/**
 * Tests every station and slice against no change. Level and scatter come from the stations that
 * are not significant, found by iteration: all stations are stable at first, and the significant
 * ones are left out of the next round, until nothing changes (12 rounds at most). The first round's
 * scale tolerates changes over up to half of the line; that of the later ones is more efficient.
 *
 * A smoothed difference's standard deviation has two parts. One is the propagated error × a scatter
 * of 1 or more: neighbouring errors are correlated, and a mean over them is less certain than if
 * they were not. The other is what a mismatch of positions makes of the ground's slope along the
 * line. The scatter is such that differences over both parts together have a robust scale of 1 over
 * stable stations. A station's p-value is the least of those of its moving means, times their
 * number.
 */
export function findSignificant(given: Differences, options: SignificanceOptions): Significance {
  const slices = zipped(zipped(given.difference, given.sd), given.mean).map(
    ([[difference, sd], mean]) => ({
      difference,
      sd,
      mismatchSd: options.windows.map((window) =>
        mismatchOf(smoothed(mean, sd, window), options.mismatch),
      ),
    }),
  );
  let stable = given.difference.map((column) => column.map((v) => (Number.isNaN(v) ? 0 : 1)));
  let found = testOnce(slices, { ...options, stable, scale: madScale });
  for (let round = 1; round < ROUNDS; round++) {
    const next = found.adjusted.map((p) => p.map((value) => (value > options.q ? 1 : 0)));
    if (zipped(next, stable).every(([one, other]) => same(one, other))) break;
    stable = next;
    found = testOnce(slices, { ...options, stable, scale: sharpScale });
  }
  return found;
}

interface TestedSlice {
  readonly difference: Float64Array;
  readonly sd: Float64Array;
  /** By window. */
  readonly mismatchSd: readonly Float64Array[];
}

interface Round extends SignificanceOptions {
  /** For each slice, n entries: 1 where the station is taken for stable. */
  readonly stable: readonly Float64Array[];
  /** Scale of the standardised differences of stable stations. */
  readonly scale: (values: Float64Array) => number;
}

function testOnce(given: readonly TestedSlice[], round: Round): Significance {
  const slices = zipped(given, round.stable).map(([{ difference, sd, mismatchSd }, stable]) => {
    const level = round.level === "majority" ? median(kept(difference, stable)) || 0 : 0;
    const levelled = difference.map((value) => value - level);
    const means = zipped(round.windows, mismatchSd).map(([window, mismatch]) => {
      const few = fewWindows(stable, window);
      const scaleOf = (all: Float64Array) => few * round.scale(kept(all, stable));
      return testedMean(smoothed(levelled, sd, window), mismatch, scaleOf);
    });
    return { level, levelled, ...firstOf(means), p: leastP(means) };
  });
  const p = slices.map((slice) => slice.p);
  return {
    p,
    level: slices.map((slice) => slice.level),
    levelled: slices.map((slice) => slice.levelled),
    stable: round.stable,
    difference: slices.map((slice) => slice.value),
    sd: slices.map((slice) => slice.sd),
    adjusted: adjustedTogether(p),
    scatter: slices.map((slice) => slice.scatter),
  };
}

/** √(m / (m − 2)) for m windows side by side in the stable line: a scale from few is uncertain. */
function fewWindows(stable: Float64Array, window: number): number {
  const m = stable.reduce((sum, value) => sum + value, 0) / window;
  return m > 4 ? Math.sqrt(m / (m - 2)) : Math.SQRT2;
}

/** A shift along the line by d stations changes a moving mean by d × its slope. */
function mismatchOf(moving: Smoothed, mismatch: Float64Array): Float64Array {
  const slope = slopes(moving.value);
  return slope.map((value, i) => (Number.isNaN(value) ? 0 : Math.abs(value) * itemAt(mismatch, i)));
}

interface TestedMean extends Smoothed {
  readonly scatter: number;
}

const SCATTER_STEPS = 5;

/** A moving mean with both parts in its standard deviation. */
function testedMean(
  own: Smoothed,
  mismatch: Float64Array,
  scaleOf: (values: Float64Array) => number,
): TestedMean {
  const total = (scatter: number) =>
    own.sd.map((sd, i) => Math.hypot(scatter * sd, itemAt(mismatch, i)));
  let scatter = 1;
  for (let step = 0; step < SCATTER_STEPS; step++) {
    const sd = total(scatter);
    const scale = scaleOf(own.value.map((value, i) => value / itemAt(sd, i))) || 1;
    scatter = Math.max(1, scatter * scale);
    if (scatter === 1 || Math.abs(scale - 1) < 0.005) break;
  }
  return { value: own.value, sd: total(scatter), scatter };
}

/** About the median, so that a level that was left in does not count as scatter. */
function sharpScale(column: Float64Array): number {
  const centre = median(column);
  return huberScale(column.map((value) => value - centre));
}

/** Bonferroni over the windows; a mean that is missing is not tested. */
function leastP(means: readonly TestedMean[]): Float64Array {
  const all = means.map(({ value, sd }) => value.map((v, i) => normalTwoSided(v / itemAt(sd, i))));
  return firstOf(all).map((first, i) => {
    const present = all.map((p) => itemAt(p, i)).filter((p) => !Number.isNaN(p));
    return Number.isNaN(first) ? first : Math.min(1, present.length * Math.min(...present));
  });
}

const kept = (column: Float64Array, stable: Float64Array) =>
  column.map((value, i) => (stable[i] === 1 ? value : Number.NaN));

/** All slices adjusted as one family of tests. */
function adjustedTogether(p: readonly Float64Array[]): Float64Array[] {
  const n = p[0]?.length ?? 0;
  const adjusted = falseDiscoveryAdjusted(p.flatMap((column) => [...column]));
  return p.map((_, k) => adjusted.slice(k * n, (k + 1) * n));
}

const same = (one: Float64Array, other: Float64Array) =>
  one.every((value, i) => value === other[i]);
