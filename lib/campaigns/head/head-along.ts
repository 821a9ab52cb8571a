import { itemAt, zipped } from "../../numerics/arrays.js";
import { presentCount, presentMean } from "../../numerics/statistics/present.js";
import { median } from "../../numerics/statistics/robust.js";
import { studentPoint } from "../../numerics/statistics/student.js";
import type { WaterLevel } from "../../survey/survey.js";
import { falseDiscoveryAdjusted } from "../false-discovery.js";
import type { ChainageRange, DepthRange } from "../ranges.js";
import { levelledSeries, type RawSeries, rawSeries } from "../trend/campaign-series.js";
import type { HeadInput } from "./check-head.js";
import { fitHead, type HeadFit, moderatedTest } from "./head-fit.js";
import type { HeadResponse, SliceResponse, StretchResponse } from "./head-response.js";
import type { HeadOptions } from "./options.js";

const DAY_S = 86400;
/** Readings of the level within this count for a campaign, days; a mean of those within a day. */
const NEAR_DAYS = 3;
/** From so many campaigns on, lags are tried. */
const LAGS_FROM = 6;

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
  const { log10Ratio } = levelledSeries(raw, still, { ...used, smoothing_m: 0 });
  return stretchesOf(raw, used).map(({ from_m, to_m }) => {
    const inside = Array.from(raw.chainage_m, (x) => x >= from_m && x < to_m);
    const meanOver = (column: Float64Array) => majorityMean(column.filter((_, i) => inside[i]));
    const y = raw.slices.map((_, k) => log10Ratio.map((columns) => meanOver(itemAt(columns, k))));
    return { from_m, to_m, y };
  });
}

/** NaN where half of the values or more are missing. */
const majorityMean = (values: Float64Array) =>
  2 * presentCount(values) > values.length ? presentMean(values) : Number.NaN;

function stretchesOf({ chainage_m }: RawSeries, used: HeadOptions): readonly ChainageRange[] {
  if (used.stretches !== "even") return used.stretches;
  const [from, to] = [chainage_m[0] ?? 0, chainage_m.at(-1) ?? 0];
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
  const bySlice = raw.slices.map((slice, k) => {
    const rows = means.map(({ y }) => itemAt(y, k));
    const fits = rows.map((row) => heads.map((head) => fitHead(head, row)));
    const variance = lineVariance(fits);
    return zipped(rows, fits).map(([row, own]) =>
      sliceResponse(slice, row, { fits: own, lags, variance }),
    );
  });
  const byStretch = means.map((_, s) => bySlice.map((responses) => itemAt(responses, s)));
  const adjusted = falseDiscoveryAdjusted(byStretch.flat().map((one) => one.p));
  return zipped(means, byStretch).flatMap(([{ from_m, to_m }, responses], s) => {
    const qs = adjusted.subarray(s * responses.length, (s + 1) * responses.length);
    const known = qs.filter((value) => !Number.isNaN(value));
    if (known.length === 0) return [];
    const least = Math.min(...known);
    const p = responses.map((one) => (Number.isNaN(one.p) ? 2 : one.p));
    const strongest = p.indexOf(Math.min(...p));
    const withQ = responses.map((one, k) => ({ ...one, q: itemAt(qs, k) }));
    return [{ from_m, to_m, responds: least <= q, q: least, bySlice: withQ, strongest }];
  });
}

/** Median over stretches of the residual variance at the first lag. */
function lineVariance(fits: readonly (readonly (HeadFit | null)[])[]): number {
  const each = fits.map(([first]) => (first ? first.residualSquares / first.dof : Number.NaN));
  return median(each) || 0;
}

interface Fitted {
  readonly fits: readonly (HeadFit | null)[];
  readonly lags: readonly number[];
  readonly variance: number;
}

function sliceResponse(
  { top_m, base_m }: DepthRange,
  row: readonly number[],
  { fits, lags, variance }: Fitted,
): Omit<SliceResponse, "q"> {
  const rests = fits.map((fit) => fit?.residualSquares ?? Number.POSITIVE_INFINITY);
  const best = rests.indexOf(Math.min(...rests));
  const fit = fits[best] ?? null;
  const ratio = row.map((value) => 10 ** value);
  if (fit === null) return { top_m, base_m, ...UNKNOWN, ratio };
  const tested = moderatedTest(fit, variance);
  const allowed = allowedLags(rests, lags, fit.dof);
  return {
    top_m,
    base_m,
    ratioPerMetre: 10 ** tested.slope,
    interval: [10 ** tested.interval[0], 10 ** tested.interval[1]],
    // Bonferroni over the lags: the best of several fits better by chance.
    p: Math.min(1, tested.p * lags.length),
    lag_days: itemAt(lags, best),
    lagRange_days: [Math.min(...allowed), Math.max(...allowed)],
    ratio,
  };
}

const UNKNOWN = {
  ratioPerMetre: Number.NaN,
  interval: [Number.NaN, Number.NaN],
  p: Number.NaN,
  lag_days: Number.NaN,
  lagRange_days: [Number.NaN, Number.NaN],
} as const;

/** Lags whose residual is not worse than the best by more than F(1, dof − 1) allows (90 %). */
function allowedLags(rests: readonly number[], lags: readonly number[], dof: number): number[] {
  const free = dof - 1;
  if (free < 1) return [...lags];
  const limit = Math.min(...rests) * (1 + studentPoint(0.1, free) ** 2 / free);
  return lags.filter((_, i) => itemAt(rests, i) <= limit);
}
