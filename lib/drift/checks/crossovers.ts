import { groupedBy } from "../../numerics/arrays.js";
import { madScale, median } from "../../numerics/statistics/robust.js";
import type { Campaign } from "../../survey/survey.js";
import { type CrossoverOptions, type CrossoverPair, crossoverPairs } from "./crossover-pairs.js";
import { meanOf } from "./mean-of.js";

/** Readings of one channel at the same places at two times: by how much they rose. */
export interface Crossover {
  readonly from_s: number;
  readonly to_s: number;
  /** Median difference, later less earlier, channel's unit. */
  readonly rise: number;
  readonly error: number;
  /** Pairs of readings behind it. */
  readonly pairs: number;
}

/**
 * Pairs are gathered into this many stretches of the campaign's time each way: the most of them
 * that give no channel too many crossovers.
 */
const STRETCHES = [24, 16, 11];
const FEWEST = 8;
/** More than these hardly sharpen the estimate, and the cost grows with their cube. */
const MOST_CROSSOVERS = 40;
/** Shortest stretch of time gathered, s. */
const SHORTEST_S = 120;
/** The median of fewer pairs than this is not safe against a bad one. */
const LEAST_PAIRS = 5;
/** Error of a median over that of a mean of normal values: sqrt(π/2). */
const MEDIAN_ERROR = 1.2533;
/** Neighbouring pairs miss the place by the same: two of them count as one. */
const CORRELATED_PAIRS = 2;

/**
 * Channel field → its crossovers, from re-walked stretches and overlapping passes. Two readings of
 * the same channel pair up where they lie within `crossingWithin_m` of each other and
 * `crossingApart_s` or more apart; pairs from the same two stretches of time give one median
 * difference.
 */
export function crossoversOf(
  campaign: Campaign,
  options: CrossoverOptions,
): ReadonlyMap<string, readonly Crossover[]> {
  const pairs = crossoverPairs(campaign.passes, options);
  for (const stretches of STRETCHES) {
    const found = crossoversIn(pairs, stretches);
    if ([...found.values()].every(({ length }) => length <= MOST_CROSSOVERS)) return found;
  }
  return crossoversIn(pairs, FEWEST);
}

function crossoversIn(pairs: readonly CrossoverPair[], stretches: number) {
  const times = pairs.flatMap(({ from_s, to_s }) => [from_s, to_s]);
  const first_s = times.reduce((least, t) => Math.min(least, t), Number.POSITIVE_INFINITY);
  const last_s = times.reduce((most, t) => Math.max(most, t), Number.NEGATIVE_INFINITY);
  const stretch_s = Math.max(SHORTEST_S, (last_s - first_s) / stretches);
  const cell = (t: number) => Math.min(stretches - 1, Math.floor((t - first_s) / stretch_s));
  const gathered = [...groupedBy(pairs, ({ field }) => field)].map(([field, own]) => {
    const cells = groupedBy(own, ({ from_s, to_s }) => `${cell(from_s)} ${cell(to_s)}`);
    return [field, [...cells.values()].flatMap(crossoverOf)] as const;
  });
  return new Map(gathered);
}

function crossoverOf(pairs: readonly CrossoverPair[]): readonly Crossover[] {
  if (pairs.length < LEAST_PAIRS) return [];
  const rises = pairs.map(({ rise }) => rise);
  const rise = median(rises);
  const scatter = Math.max(madScale(rises), 1e-6 * Math.abs(rise), 1e-9);
  return [
    {
      from_s: meanOf(pairs.map(({ from_s }) => from_s)),
      to_s: meanOf(pairs.map(({ to_s }) => to_s)),
      rise,
      error: (MEDIAN_ERROR * scatter) / Math.sqrt(pairs.length / CORRELATED_PAIRS),
      pairs: pairs.length,
    },
  ];
}
