import { firstOf, itemAt } from "../../numerics/arrays.js";
import { huberScale } from "../../numerics/statistics/huber-scale.js";
import { kendallTail } from "../../numerics/statistics/mann-kendall.js";
import { presentCount, presentMean } from "../../numerics/statistics/present.js";
import { campaignOrders } from "./campaign-orders.js";
import type { CampaignSeries } from "./trend.js";

interface TrendRule {
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

/** Stations first … last with a trend of one sign. */
interface Cluster {
  readonly first: number;
  readonly last: number;
  readonly sign: 1 | -1;
  readonly mass: number;
}

export interface TrendStretch extends Omit<Cluster, "mass"> {
  readonly strongest: number;
  readonly slices: readonly number[];
  readonly q: number;
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
  const orders = campaignOrders(series.campaigns.length, rule);
  const given = firstOf(orders);
  const slices = series.slices.map((_, k) => sliceSeries(series, k, given));
  const byOrder = orders.map((order) => {
    const statistics = slices.map((slice) => orderStatistics(slice, series.time_s, order));
    return clustersOf(statistics, { ...rule, inflation: order === given ? rule.inflation : 1 });
  });
  const observed = [...firstOf(byOrder)].sort((one, other) => other.mass - one.mass);
  const own = slices.map((slice) => orderStatistics(slice, series.time_s, given));
  const found: TrendStretch[] = [];
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
    found.push({ ...cluster, ...slicesOf(own, cluster), q });
  }
  return found.sort((one, other) => one.first - other.first);
}

/** A slice over all campaigns. */
interface SliceSeries {
  /** By campaign, n log ratios. */
  readonly columns: readonly Float64Array[];
  /** n counts of campaigns with an estimate. */
  readonly present: Uint8Array;
  /** Robust scale of the least-squares slopes along the line, in the given order. */
  readonly scale: number;
}

function sliceSeries(
  { log10Ratio, time_s, chainage_m }: CampaignSeries,
  k: number,
  given: readonly number[],
): SliceSeries {
  const columns = log10Ratio.map((all) => itemAt(all, k));
  const present = Uint8Array.from(chainage_m, (_, i) => presentCount(columns.map((c) => c[i]!)));
  return { columns, present, scale: huberScale(leastSquares(columns, time_s, given)) || 1 };
}

interface SliceStatistics extends SliceSeries {
  /** n of Kendall's S. */
  readonly S: Int16Array;
  /** n least-squares slopes. */
  readonly slope: Float64Array;
}

function orderStatistics(
  slice: SliceSeries,
  time_s: Float64Array,
  order: readonly number[],
): SliceStatistics {
  const { columns } = slice;
  const slope = leastSquares(columns, time_s, order);
  return { ...slice, slope, S: kendallAlong(order.map((c) => itemAt(columns, c))) };
}

function kendallAlong(columns: readonly Float64Array[]): Int16Array {
  const S = new Int16Array(firstOf(columns).length);
  for (const [b, later] of columns.entries()) {
    for (const earlier of columns.slice(0, b)) {
      for (let i = 0; i < S.length; i++) {
        const difference = later[i]! - earlier[i]!;
        if (difference > 0) S[i]!++;
        else if (difference < 0) S[i]!--;
      }
    }
  }
  return S;
}

/** Σ (t − t̄) y over rising times, y in the order given; missing values count as 0. */
function leastSquares(
  columns: readonly Float64Array[],
  time_s: Float64Array,
  order: readonly number[],
): Float64Array {
  const mean = presentMean(time_s);
  const norm = Math.sqrt(time_s.reduce((sum, time) => sum + (time - mean) ** 2, 0)) || 1;
  const slope = new Float64Array(firstOf(columns).length);
  for (const [place, c] of order.entries()) {
    const weight = (itemAt(time_s, place) - mean) / norm;
    const column = itemAt(columns, c);
    for (let i = 0; i < slope.length; i++) slope[i]! += weight * (column[i]! || 0);
  }
  return slope;
}

function clustersOf(slices: readonly SliceStatistics[], rule: TrendRule): readonly Cluster[] {
  const out: Cluster[] = [];
  for (let i = 0; i < firstOf(slices).S.length; i++) {
    const strongest = strongestAt(slices, i, rule.inflation);
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

/** The greatest scaled slope of the slices with a significant S, with its sign; 0 for none. */
function strongestAt(slices: readonly SliceStatistics[], i: number, inflation: number): number {
  let strongest = 0;
  for (const { S, slope, present, scale } of slices) {
    if (!passes(S[i]!, present[i]!, inflation)) continue;
    const weight = Math.abs(slope[i]!) / scale;
    if (weight > Math.abs(strongest)) strongest = Math.sign(S[i]!) * weight;
  }
  return strongest;
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

/** The slice with the greatest sum of scaled slopes, and all slices in which the stretch shows. */
function slicesOf(slices: readonly SliceStatistics[], { first, last, sign }: Cluster) {
  const weights = slices.map(({ slope, scale }) =>
    slope.subarray(first, last + 1).reduce((sum, value) => sum + (sign * value) / scale, 0),
  );
  const strongest = weights.indexOf(Math.max(...weights));
  const shows = slices.map(({ S, present }) => {
    const passing = S.subarray(first, last + 1).filter(
      (s, i) => sign * s > 0 && passes(s, itemAt(present, first + i), 1),
    );
    return 3 * passing.length >= last - first + 1;
  });
  return { strongest, slices: shows.flatMap((show, k) => (show || k === strongest ? [k] : [])) };
}
