import { groupedBy } from "../../numerics/arrays.js";
import { patternSearch } from "../../numerics/pattern-search.js";
import type { MeasuredReading } from "./measured.js";

/**
 * Standard deviation of ln R of a reading: the root of share² + (perDeviation × stacking
 * deviation)² + (floor_mV / |V|)².
 */
export interface ErrorModel {
  readonly share: number;
  readonly perDeviation: number;
  readonly floor_mV: number;
  /** Pairs of reciprocal readings, and of repeats, that it rests on. */
  readonly reciprocals: number;
  readonly repeats: number;
}

/** Two readings of one resistance. */
interface Pair {
  readonly one: MeasuredReading;
  readonly other: MeasuredReading;
  readonly kind: "reciprocal" | "repeat";
}

/** Readings of the same four electrodes: the pairs the same, or current and potential exchanged. */
export function pairsOf(readings: readonly MeasuredReading[]): Pair[] {
  const groups = groupedBy(readings, ({ spread: { a, b, m, n } }) =>
    [pairKey(a, b), pairKey(m, n)].sort().join(" | "),
  );
  return [...groups.values()].flatMap((group) => {
    const [one, ...others] = group;
    return others.map((other): Pair => {
      const same = currentKey(one!) === currentKey(other);
      return { one: one!, other, kind: same ? "repeat" : "reciprocal" };
    });
  });
}

const pairKey = (p: number, q: number) => `${Math.min(p, q)}-${Math.max(p, q)}`;
const currentKey = ({ spread: { a, b } }: MeasuredReading) => pairKey(a, b);

/** Beliefs about the logarithm of each part: usual value and spread. */
const BELIEF = {
  share: [0.01, 0.7],
  perDeviation: [1.5, 0.7],
  floor_mV: [0.02, 1],
} as const;
/** Degrees of freedom of the differences: a few pairs may be wrong altogether. */
const FREEDOM = 5;

/** The error model of greatest posterior density; without pairs the usual one with `share`. */
export function errorModelOf(readings: readonly MeasuredReading[], share: number): ErrorModel {
  const pairs = pairsOf(readings);
  const counts = {
    reciprocals: pairs.filter(({ kind }) => kind === "reciprocal").length,
    repeats: pairs.filter(({ kind }) => kind === "repeat").length,
  };
  const usual = [share, BELIEF.perDeviation[0], BELIEF.floor_mV[0]].map(Math.log);
  const spread = [BELIEF.share[1], BELIEF.perDeviation[1], BELIEF.floor_mV[1]];
  const cost = (at: Float64Array) => {
    let sum = at.reduce((total, log, k) => total + ((log - usual[k]!) / spread[k]!) ** 2 / 2, 0);
    for (const pair of pairs) sum += pairCost(pair, at.map(Math.exp));
    return sum;
  };
  const { at } = patternSearch(cost, usual, { step: 0.5, enough: 0.01, evaluations: 2000 });
  const [found, perDeviation, floor_mV] = at.map(Math.exp) as unknown as [number, number, number];
  return { share: found, perDeviation, floor_mV, ...counts };
}

function pairCost({ one, other }: Pair, [share, perDeviation, floor_mV]: Float64Array): number {
  const model = { share: share!, perDeviation: perDeviation!, floor_mV: floor_mV! };
  const variance = relativeVariance(one, model) + relativeVariance(other, model);
  const difference = Math.log(Math.abs(one.apparent_ohm_m / other.apparent_ohm_m));
  const scaled = difference ** 2 / variance;
  return Math.log(variance) / 2 + ((FREEDOM + 1) / 2) * Math.log(1 + scaled / FREEDOM);
}

/** Variance of ln R of one reading. A deviation that was not noted counts as 0. */
export function relativeVariance(
  { reading: { deviation_pct, voltage_mV } }: MeasuredReading,
  { share, perDeviation, floor_mV }: Pick<ErrorModel, "share" | "perDeviation" | "floor_mV">,
): number {
  const stacked = Number.isFinite(deviation_pct) ? (perDeviation * deviation_pct) / 100 : 0;
  return share ** 2 + stacked ** 2 + (floor_mV / voltage_mV) ** 2;
}
