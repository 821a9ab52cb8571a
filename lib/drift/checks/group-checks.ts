import { MAD_TO_SD, median } from "../../numerics/robust.js";

/** One reading of one channel at the fixed spot. */
export interface Repeat {
  readonly time_s: number;
  readonly value: number;
}

/** One visit to the fixed spot: the repeats of one channel, taken together. */
export interface CheckGroup {
  /** Mean time of the repeats used. */
  readonly time_s: number;
  readonly start_s: number;
  readonly end_s: number;
  readonly mean: number;
  /** Standard error of the mean; NaN where the scatter cannot be told. */
  readonly error: number;
  /** Repeats used, and repeats left out as bad. */
  readonly used: number;
  readonly bad: number;
}

export interface CheckGroups {
  /** k visits by time. */
  readonly groups: readonly CheckGroup[];
  /** Standard deviation of one repeat; NaN where it cannot be told. */
  readonly scatter: number;
  /** Degrees of freedom behind `scatter`. */
  readonly freedom: number;
}

/** A repeat further than this many scales from the middle of its visit is bad. */
const BAD_REPEAT = 4;

/**
 * Repeats of one channel grouped into visits wherever two neighbours lie more than `within_s` apart,
 * each with a mean and a standard error that one bad repeat does not spoil. The scatter is common to
 * all visits, as the spot, and with it the level, is the same.
 */
export function groupChecks(repeats: readonly Repeat[], within_s: number): CheckGroups {
  const visits = splitByTime(repeats, within_s);
  const limit = BAD_REPEAT * pooledScale(visits);
  const cleaned = visits.map((visit) => withoutBad(visit, limit));
  const freedom = cleaned.reduce((sum, { good }) => sum + good.length - 1, 0);
  const squares = cleaned.reduce((sum, { good }) => sum + sumOfSquares(good), 0);
  if (freedom > 0 && squares > 0) {
    const scatter = Math.sqrt(squares / freedom);
    return { groups: cleaned.map((visit) => summarised(visit, scatter)), scatter, freedom };
  }
  return scatterBetween(cleaned.map((visit) => summarised(visit, Number.NaN)));
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
  const middle = median(all.map(({ value }) => value));
  const good = all.filter(({ value }) => Math.abs(value - middle) <= limit);
  return { all, good: limit > 0 && good.length > all.length / 2 ? good : all };
}

function sumOfSquares(repeats: readonly Repeat[]): number {
  const mean = meanOf(repeats, "value");
  return repeats.reduce((sum, { value }) => sum + (value - mean) ** 2, 0);
}

function summarised({ all, good }: CleanVisit, scatter: number): CheckGroup {
  return {
    time_s: meanOf(good, "time_s"),
    start_s: all[0]!.time_s,
    end_s: all.at(-1)!.time_s,
    mean: meanOf(good, "value"),
    error: scatter / Math.sqrt(good.length),
    used: good.length,
    bad: all.length - good.length,
  };
}

/** Without repeats, the scatter shows in how far each visit lies off the line of its neighbours. */
function scatterBetween(groups: readonly CheckGroup[]): CheckGroups {
  const bends = groups.slice(1, -1).map(({ time_s, mean }, i) => {
    const [before, after] = [groups[i]!, groups[i + 2]!];
    const share = (time_s - before.time_s) / (after.time_s - before.time_s);
    const off = mean - (1 - share) * before.mean - share * after.mean;
    return Math.abs(off) / Math.sqrt(1 + share ** 2 + (1 - share) ** 2);
  });
  const scatter = bends.length < 2 ? Number.NaN : MAD_TO_SD * median(bends);
  const known = scatter > 0 ? scatter : Number.NaN;
  return {
    groups: groups.map((group) => ({ ...group, error: known / Math.sqrt(group.used) })),
    scatter: known,
    freedom: known > 0 ? bends.length : 0,
  };
}

function meanOf(repeats: readonly Repeat[], field: "time_s" | "value"): number {
  // About the first value, as times since 1970 are large beside their differences.
  const origin = repeats[0]![field];
  return origin + repeats.reduce((sum, repeat) => sum + repeat[field] - origin, 0) / repeats.length;
}
