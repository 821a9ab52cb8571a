import { huberScale } from "../../numerics/huber-scale.js";
import { kendallTail } from "../../numerics/mann-kendall.js";
import { campaignOrders } from "./campaign-orders.js";
import type { CampaignSeries } from "./trend.js";

export interface TrendRule {
  readonly q: number;
  /** Stations: gaps shorter than this are closed. */
  readonly join: number;
  /** Stations. */
  readonly minLength: number;
  /** Stations next to a stretch that its smoothing may touch. */
  readonly reach: number;
  readonly inflation: number;
  readonly draws: number;
  readonly seed: number;
}

export interface TrendStretch {
  readonly first: number;
  readonly last: number;
  readonly sign: 1 | -1;
  readonly strongest: number;
  readonly slices: readonly number[];
  readonly q: number;
}

interface Cluster {
  readonly first: number;
  readonly last: number;
  readonly sign: 1 | -1;
  readonly mass: number;
}

/** Two-sided level of the Mann-Kendall test that lets a station into a stretch. */
const STATION_LEVEL = 0.05;
const FEWEST = 5;

/**
 * Stretches of stations whose Mann-Kendall S is beyond its exact 5 % point in any slice, all of one
 * sign, tested as wholes by permutation of the campaigns: without a trend every order is equally
 * likely. A stretch's mass is the sum of its least-squares slopes over their robust scale; its q is
 * the share of orders in which the line has anywhere a stretch of at least that mass. So errors
 * that neighbours and slices share are allowed for exactly, and q holds for all stretches together.
 * The stretch of the greatest mass is tested first; what was found is left out for the next.
 *
 * The S of the given order is lowered for serial correlation, those of the others are not.
 *
 * Source: Nichols & Holmes 2002, Human Brain Mapping 15, 1–25 (clusters by permutation); Westfall &
 * Young 1993, Resampling-Based Multiple Testing (step-down).
 */
export function trendStretches(series: CampaignSeries, rule: TrendRule): readonly TrendStretch[] {
  const c = series.campaigns.length;
  const orders = campaignOrders(c, rule);
  const fields = series.slices.map((_, k) => sliceFields(series, k));
  const byOrder = orders.map((order, o) =>
    clustersOf(orderStatistics(series, fields, order), fields, {
      ...rule,
      inflation: o === 0 ? rule.inflation : 1,
    }),
  );
  const found: TrendStretch[] = [];
  const observed = [...byOrder[0]!].sort((one, other) => other.mass - one.mass);
  let q = 0;
  for (const cluster of observed) {
    const free = (one: Cluster) =>
      found.every((f) => one.last < f.first - rule.reach || one.first > f.last + rule.reach);
    if (!free(cluster)) continue;
    const heavy = byOrder.filter((all) =>
      all.some((one) => one.mass >= cluster.mass * (1 - 1e-12) && free(one)),
    );
    q = Math.max(q, heavy.length / orders.length);
    if (q > rule.q) break;
    found.push({ ...cluster, ...describe(series, fields, cluster), q });
  }
  return found.sort((one, other) => one.first - other.first);
}

/** What does not depend on the order. */
interface SliceField {
  /** n counts of campaigns with an estimate. */
  readonly present: Uint8Array;
  /** Robust scale of the least-squares slopes along the line, in the given order. */
  readonly scale: number;
}

function sliceFields(series: CampaignSeries, k: number): SliceField {
  const n = series.chainage_m.length;
  const present = new Uint8Array(n);
  for (const columns of series.log10Ratio) {
    for (let i = 0; i < n; i++) present[i]! += Number.isNaN(columns[k]![i]!) ? 0 : 1;
  }
  const given = series.campaigns.map((_, c) => c);
  return { present, scale: huberScale(leastSquares(series, k, given)) || 1 };
}

interface Statistics {
  /** For each slice, n of Kendall's S. */
  readonly S: readonly Int16Array[];
  /** For each slice, n least-squares slopes. */
  readonly slope: readonly Float64Array[];
}

function orderStatistics(
  series: CampaignSeries,
  fields: readonly SliceField[],
  order: readonly number[],
): Statistics {
  return {
    S: fields.map((_, k) => kendallAlong(series, k, order)),
    slope: fields.map((_, k) => leastSquares(series, k, order)),
  };
}

function kendallAlong(
  { log10Ratio, chainage_m }: CampaignSeries,
  k: number,
  order: readonly number[],
) {
  const S = new Int16Array(chainage_m.length);
  for (let b = 1; b < order.length; b++) {
    const later = log10Ratio[order[b]!]![k]!;
    for (let a = 0; a < b; a++) {
      const earlier = log10Ratio[order[a]!]![k]!;
      for (let i = 0; i < S.length; i++) {
        const difference = later[i]! - earlier[i]!;
        if (difference > 0) S[i]!++;
        else if (difference < 0) S[i]!--;
      }
    }
  }
  return S;
}

/**
 * Σ (t − t̄) y over the times in their own order, y in the order given; missing values count as 0.
 */
function leastSquares(series: CampaignSeries, k: number, order: readonly number[]): Float64Array {
  const { time_s, log10Ratio, chainage_m } = series;
  const mean = time_s.reduce((sum, time) => sum + time, 0) / time_s.length;
  const spread = Math.sqrt(time_s.reduce((sum, time) => sum + (time - mean) ** 2, 0)) || 1;
  const slope = new Float64Array(chainage_m.length);
  order.forEach((c, place) => {
    const weight = (time_s[place]! - mean) / spread;
    const column = log10Ratio[c]![k]!;
    for (let i = 0; i < slope.length; i++) slope[i] = slope[i]! + weight * (column[i]! || 0);
  });
  return slope;
}

function clustersOf(
  { S, slope }: Statistics,
  fields: readonly SliceField[],
  rule: TrendRule,
): readonly Cluster[] {
  const n = S[0]?.length ?? 0;
  const out: Cluster[] = [];
  for (let i = 0; i < n; i++) {
    let strongest = 0;
    for (let k = 0; k < S.length; k++) {
      if (!passes(S[k]![i]!, fields[k]!.present[i]!, rule.inflation)) continue;
      const weight = Math.abs(slope[k]![i]!) / fields[k]!.scale;
      if (weight > Math.abs(strongest)) strongest = Math.sign(S[k]![i]!) * weight;
    }
    if (strongest === 0) continue;
    const sign = strongest > 0 ? 1 : -1;
    const previous = out.at(-1);
    const near = previous?.sign === sign && i - previous.last - 1 < Math.max(1, rule.join);
    const mass = Math.abs(strongest);
    if (near) out[out.length - 1] = { ...previous, last: i, mass: previous.mass + mass };
    else out.push({ first: i, last: i, sign, mass });
  }
  return out.filter(({ first, last }) => last - first + 1 >= rule.minLength);
}

function passes(S: number, present: number, inflation: number): boolean {
  if (present < FEWEST) return false;
  return Math.abs(S) / Math.sqrt(inflation) >= stationPoint(present);
}

const points = new Map<number, number>();

/** Least S whose two-sided probability is at most 5 %. */
export function stationPoint(n: number): number {
  let point = points.get(n);
  if (point === undefined) {
    point = (n * (n - 1)) / 2;
    while (point > 0 && 2 * kendallTail(n, point - 2) <= STATION_LEVEL) point -= 2;
    points.set(n, point);
  }
  return point;
}

function describe(series: CampaignSeries, fields: readonly SliceField[], cluster: Cluster) {
  const given = series.campaigns.map((_, c) => c);
  const { S, slope } = orderStatistics(series, fields, given);
  const length = cluster.last - cluster.first + 1;
  const weights = fields.map(({ scale }, k) => {
    let sum = 0;
    for (let i = cluster.first; i <= cluster.last; i++)
      sum += (cluster.sign * slope[k]![i]!) / scale;
    return sum;
  });
  const strongest = weights.indexOf(Math.max(...weights));
  const slices = fields.flatMap(({ present }, k) => {
    let count = 0;
    for (let i = cluster.first; i <= cluster.last; i++) {
      if (cluster.sign * S[k]![i]! > 0 && passes(S[k]![i]!, present[i]!, 1)) count++;
    }
    return k === strongest || 3 * count >= length ? [k] : [];
  });
  return { strongest, slices };
}
