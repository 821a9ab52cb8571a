import { firstOf, lastOf } from "../../numerics/arrays.js";
import { MAD_TO_SD, median } from "../../numerics/statistics/robust.js";
import { meanOf } from "./mean-of.js";

/** One reading of one channel at the fixed spot. */
export interface Repeat {
  readonly time_s: number;
  readonly value: number;
}

/** One visit to the fixed spot: the repeats of one channel, taken together. */
export interface CheckVisit {
  /** Mean time of the repeats used. */
  readonly time_s: number;
  readonly start_s: number;
  readonly end_s: number;
  readonly mean: number;
  /** Standard error of the mean; NaN where the scatter is not known. */
  readonly error: number;
  /** Repeats used, and repeats left out as bad. */
  readonly used: number;
  readonly bad: number;
}

export interface CheckVisits {
  /** k visits by time. */
  readonly visits: readonly CheckVisit[];
  /** Standard deviation of one repeat; NaN where it is not known. */
  readonly scatter: number;
  /** Degrees of freedom behind `scatter`. */
  readonly freedom: number;
}

/** A repeat further than this many scales from the middle of its visit is bad. */
const BAD_REPEAT = 4;

/** Fewer degrees of freedom than these are filled up with the noise of the walk. */
const ENOUGH_FREEDOM = 8;

export interface VisitRule {
  /** Repeats less than this apart are one visit, s. */
  readonly within_s: number;
  /** Noise of one reading at a value, as the walk tells it; NaN where it does not, default. */
  readonly noiseAt?: (value: number) => number;
}

/**
 * Repeats of one channel grouped into visits wherever two neighbours lie more than `within_s`
 * apart, each with a mean and a standard error that are robust against one bad repeat. The scatter
 * is common to all visits, as the spot, and with it the level, is the same. Where few or no visits
 * have repeats, the noise of the walk at the spot's level stands in for those that are missing.
 */
export function groupVisits(repeats: readonly Repeat[], rule: VisitRule): CheckVisits {
  const all = splitByTime(repeats, rule.within_s);
  const limit = BAD_REPEAT * pooledScale(all);
  const cleaned = all.map((visit) => withoutBad(visit, limit));
  const told = cleaned.reduce((sum, { good }) => sum + good.length - 1, 0);
  const squares = cleaned.reduce((sum, { good }) => sum + sumOfSquares(good), 0);
  const walked = rule.noiseAt?.(median(valuesOf(repeats))) ?? Number.NaN;
  const missing = Number.isNaN(walked) ? 0 : Math.max(0, ENOUGH_FREEDOM - told);
  const filled = missing > 0 ? squares + missing * walked ** 2 : squares;
  const freedom = told + missing;
  const scatter = filled > 0 && freedom > 0 ? Math.sqrt(filled / freedom) : Number.NaN;
  const visits = cleaned.map((visit) => summarised(visit, scatter));
  return { visits, scatter, freedom: scatter > 0 ? freedom : 0 };
}

interface CleanVisit {
  readonly all: readonly Repeat[];
  readonly good: readonly Repeat[];
}

function splitByTime(repeats: readonly Repeat[], within_s: number): readonly Repeat[][] {
  const visits: Repeat[][] = [];
  let last_s = Number.NEGATIVE_INFINITY;
  for (const repeat of [...repeats].sort((a, b) => a.time_s - b.time_s)) {
    if (repeat.time_s - last_s > within_s) visits.push([]);
    visits.at(-1)?.push(repeat);
    last_s = repeat.time_s;
  }
  return visits;
}

/** Robust standard deviation of a repeat, from the differences of all pairs within a visit. */
function pooledScale(visits: readonly Repeat[][]): number {
  const differences = visits.flatMap((visit) =>
    visit.flatMap(({ value }, i) =>
      visit.slice(0, i).map((other) => Math.abs(value - other.value)),
    ),
  );
  return (MAD_TO_SD * median(differences)) / Math.SQRT2;
}

function withoutBad(all: readonly Repeat[], limit: number): CleanVisit {
  const middle = median(valuesOf(all));
  const good = all.filter(({ value }) => Math.abs(value - middle) <= limit);
  return { all, good: limit > 0 && good.length > all.length / 2 ? good : all };
}

function sumOfSquares(repeats: readonly Repeat[]): number {
  const values = valuesOf(repeats);
  const mean = meanOf(values);
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
}

function summarised({ all, good }: CleanVisit, scatter: number): CheckVisit {
  return {
    time_s: meanOf(good.map(({ time_s }) => time_s)),
    start_s: firstOf(all).time_s,
    end_s: lastOf(all).time_s,
    mean: meanOf(valuesOf(good)),
    error: scatter / Math.sqrt(good.length),
    used: good.length,
    bad: all.length - good.length,
  };
}

function valuesOf(repeats: readonly Repeat[]): readonly number[] {
  return repeats.map(({ value }) => value);
}
