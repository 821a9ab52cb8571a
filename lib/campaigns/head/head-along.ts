import { median } from "../../numerics/robust.js";
import { studentPoint } from "../../numerics/student.js";
import type { WaterLevel } from "../../survey/survey.js";
import { falseDiscoveryAdjusted } from "../false-discovery.js";
import type { ChainageRange } from "../ranges.js";
import { levelledSeries, type RawSeries, rawSeries } from "../trend/campaign-series.js";
import type { HeadInput } from "./check-head.js";
import { fitHead, type HeadFit, moderatedTest } from "./head-fit.js";
import type { HeadResponse, SliceResponse, StretchResponse } from "./head-response.js";
import type { HeadOptions } from "./options.js";

const DAY_S = 86400;
/** Readings of the level within this count for a campaign, days; a mean of those within a day. */
const NEAR_DAYS = 3;
/** From so many campaigns on, lags are tried. */
export const LAGS_FROM = 6;

/** The response of every stretch, with what the account needs beside it. */
export interface FoundResponse {
  readonly value: HeadResponse;
  readonly time_s: Float64Array;
  /** True where every campaign was taken to 25 °C. */
  readonly corrected: boolean;
}

/** Co-registration, levels, fits and tests. */
export function headAlong({ slices, waterLevels }: HeadInput, used: HeadOptions): FoundResponse {
  const raw = rawSeries(slices, used.alignWithin_m);
  const levels = waterLevels.filter((one) => one.point === used.point);
  const { time_s, corrected } = raw;
  return { value: responseOf(raw, levels, used), time_s, corrected };
}

function responseOf(
  raw: RawSeries,
  levels: readonly WaterLevel[],
  used: HeadOptions,
): HeadResponse {
  const lags = raw.campaigns.length >= LAGS_FROM ? used.lags_days : used.lags_days.slice(0, 1);
  const heads = lags.map((lag) =>
    Array.from(raw.time_s, (time) => headAt(levels, time - lag * DAY_S)),
  );
  const means = stretchMeans(raw, used);
  return {
    point: used.point,
    campaigns: raw.campaigns,
    head_m: Array.from(raw.time_s, (time) => headAt(levels, time)),
    slices: raw.slices,
    stretches: testedStretches(raw, means, { lags, heads, q: used.q }),
  };
}

/** Mean of the levels within a day, else the nearest within three; NaN without. */
function headAt(levels: readonly WaterLevel[], time_s: number): number {
  const near = levels
    .map((one) => ({ level: one.level_m, apart: Math.abs(one.time_s - time_s) }))
    .filter((one) => one.apart <= NEAR_DAYS * DAY_S && !Number.isNaN(one.level))
    .sort((one, other) => one.apart - other.apart);
  const within = near.filter((one) => one.apart <= DAY_S);
  if (within.length === 0) return near[0]?.level ?? Number.NaN;
  return within.reduce((sum, one) => sum + one.level, 0) / within.length;
}

interface StretchMeans extends ChainageRange {
  /** By slice, c means of log10 ratio. */
  readonly y: readonly (readonly number[])[];
}

function stretchMeans(raw: RawSeries, used: HeadOptions): readonly StretchMeans[] {
  const still = new Uint8Array(raw.chainage_m.length);
  const settled = levelledSeries(raw, still, { ...used, smoothing_m: 0 });
  return stretchesOf(raw, used).map(({ from_m, to_m }) => {
    const inside = [...raw.chainage_m.keys()].filter(
      (i) => raw.chainage_m[i]! >= from_m && raw.chainage_m[i]! < to_m,
    );
    const y = raw.slices.map((_, k) =>
      settled.log10Ratio.map((columns) => meanOf(inside.map((i) => columns[k]![i]!))),
    );
    return { from_m, to_m, y };
  });
}

/** NaN where half of the values or more are missing. */
function meanOf(values: readonly number[]): number {
  const present = values.filter((value) => !Number.isNaN(value));
  if (2 * present.length <= values.length) return Number.NaN;
  return present.reduce((sum, value) => sum + value, 0) / present.length;
}

function stretchesOf({ chainage_m }: RawSeries, used: HeadOptions): readonly ChainageRange[] {
  if (used.stretches !== "even") return used.stretches;
  const [from, to] = [chainage_m[0] ?? 0, chainage_m[chainage_m.length - 1] ?? 0];
  const count = Math.max(1, Math.round((to - from) / used.evenLength_m));
  const edge = (i: number) => from + (i * (to - from)) / count;
  return Array.from({ length: count }, (_, i) => ({ from_m: edge(i), to_m: edge(i + 1) }));
}

interface Lags {
  readonly lags: readonly number[];
  /** For each lag, c heads. */
  readonly heads: readonly (readonly number[])[];
  readonly q: number;
}

function testedStretches(
  raw: RawSeries,
  means: readonly StretchMeans[],
  { lags, heads, q }: Lags,
): readonly StretchResponse[] {
  const fits = means.map(({ y }) => y.map((row) => heads.map((head) => fitHead(head, row))));
  const variance = raw.slices.map((_, k) => lineVariance(fits.map((bySlice) => bySlice[k]!)));
  const all = means.map(({ y }, s) =>
    y.map((row, k) =>
      sliceResponse(raw.slices[k]!, row, { fits: fits[s]![k]!, lags, variance: variance[k]! }),
    ),
  );
  const adjusted = falseDiscoveryAdjusted(all.flat().map((one) => one.p));
  return means.flatMap(({ from_m, to_m }, s) => {
    const qs = all[s]!.map((_, k) => adjusted[s * raw.slices.length + k]!);
    const known = qs.filter((value) => !Number.isNaN(value));
    if (known.length === 0) return [];
    const least = Math.min(...known);
    const strongest = all[s]!.reduce(
      (best, one, k, row) => (one.p < (row[best]!.p || 2) ? k : best),
      0,
    );
    const bySlice = all[s]!.map((one, k) => ({ ...one, q: qs[k]! }));
    return [{ from_m, to_m, responds: least <= q, q: least, bySlice, strongest }];
  });
}

/** Median over stretches of the residual variance at the first lag. */
function lineVariance(fits: readonly (readonly (HeadFit | null)[])[]): number {
  const each = fits.map((lags) => (lags[0] ? lags[0].residualSquares / lags[0].dof : Number.NaN));
  return median(each) || 0;
}

interface Fitted {
  readonly fits: readonly (HeadFit | null)[];
  readonly lags: readonly number[];
  readonly variance: number;
}

function sliceResponse(
  slice: RawSeries["slices"][number],
  row: readonly number[],
  { fits, lags, variance }: Fitted,
): Omit<SliceResponse, "q"> {
  const rests = fits.map((fit) => (fit === null ? Number.POSITIVE_INFINITY : fit.residualSquares));
  const best = rests.indexOf(Math.min(...rests));
  const fit = fits[best] ?? null;
  const ratio = row.map((value) => 10 ** value);
  const none = { ratioPerMetre: Number.NaN, p: Number.NaN, lag_days: Number.NaN };
  if (fit === null) {
    const unknown = [Number.NaN, Number.NaN] as const;
    return { ...slice, ...none, interval: unknown, lagRange_days: unknown, ratio };
  }
  const tested = moderatedTest(fit, variance);
  const allowed = allowedLags(rests, lags, fit.dof);
  return {
    top_m: slice.top_m,
    base_m: slice.base_m,
    ratioPerMetre: 10 ** tested.slope,
    interval: [10 ** tested.interval[0], 10 ** tested.interval[1]],
    // Bonferroni over the lags: the best of several fits better by chance.
    p: Math.min(1, tested.p * lags.length),
    lag_days: lags[best]!,
    lagRange_days: [Math.min(...allowed), Math.max(...allowed)],
    ratio,
  };
}

/**
 * Lags whose residual is not worse than the best by more than F of one and dof − 1 allows (90 %).
 */
function allowedLags(rests: readonly number[], lags: readonly number[], dof: number): number[] {
  const least = Math.min(...rests);
  const free = dof - 1;
  if (free < 1) return [...lags];
  const limit = least * (1 + studentPoint(0.1, free) ** 2 / free);
  return lags.filter((_, i) => rests[i]! <= limit);
}
