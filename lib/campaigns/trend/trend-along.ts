import type { DepthSlices } from "../../depth/depth-slices.js";
import { mannKendall } from "../../numerics/mann-kendall.js";
import { median } from "../../numerics/robust.js";
import { lagOneInflation, serialCorrelation } from "../../numerics/serial-inflation.js";
import { theilSen } from "../../numerics/theil-sen.js";
import { stationRange } from "../pair/unknown-stretches.js";
import { depthText } from "../ranges.js";
import { levelledSeries, type RawSeries, rawSeries } from "./campaign-series.js";
import type { TrendOptions } from "./options.js";
import type { CampaignSeries, CampaignTrend, Trend } from "./trend.js";
import { type TrendStretch, trendStretches } from "./trend-stretches.js";

const YEAR_S = 365.25 * 86400;
/** Fewer campaigns than this can never reach 5 %: even four in order have 2 / 4! = 8 %. */
export const LEAST_CAMPAIGNS = 5;

export interface FoundTrend {
  readonly value: CampaignTrend;
  /** True where every campaign was taken to 25 °C. */
  readonly corrected: boolean;
}

/** Co-registration, levels, slopes, tests and stretches. */
export function trendAlong(given: readonly DepthSlices[], used: TrendOptions): FoundTrend {
  const raw = rawSeries(given, used.alignWithin_m);
  return { value: trendOf(raw, used), corrected: raw.corrected };
}

/** The levels are taken once from all stations, and again without the stretches then found. */
function trendOf(raw: RawSeries, used: TrendOptions): CampaignTrend {
  const moving = new Uint8Array(raw.chainage_m.length);
  let series = levelledSeries(raw, moving, used);
  let inflation = pooledInflation(series);
  let stretches = stretchesOf(raw, series, { ...used, inflation });
  if (stretches.length > 0) {
    for (const { first, last } of stretches) moving.fill(1, first, last + 1);
    series = levelledSeries(raw, moving, used);
    inflation = pooledInflation(series);
    stretches = stretchesOf(raw, series, { ...used, inflation });
  }
  const years = yearsOf(series);
  const columns = (k: number) =>
    Array.from(raw.chainage_m, (_, i) => series.log10Ratio.map((all) => all[k]![i]!));
  const byStation = raw.slices.map((_, k) => columns(k));
  return {
    ...series,
    slope: byStation.map((rows) => Float64Array.from(rows, (row) => slopeOf(years, row))),
    p: byStation.map((rows) =>
      Float64Array.from(rows, (row) => {
        const test = mannKendall(row, { inflation });
        return test.n < 3 ? Number.NaN : test.p;
      }),
    ),
    inflation,
    trends: stretches.map((one) => trendIn(raw, series, { stretch: one, inflation })),
  };
}

const yearsOf = ({ time_s }: CampaignSeries) =>
  Array.from(time_s, (time) => (time - time_s[0]!) / YEAR_S);

const present = (row: readonly number[]) => row.filter((v) => !Number.isNaN(v)).length;

const slopeOf = (years: readonly number[], row: readonly number[]) =>
  present(row) < 3 ? Number.NaN : theilSen(years, row).slope;

function stretchesOf(
  raw: RawSeries,
  series: CampaignSeries,
  used: TrendOptions & { readonly inflation: number },
): readonly TrendStretch[] {
  if (raw.campaigns.length < LEAST_CAMPAIGNS || raw.slices.length === 0) return [];
  const stations = (length_m: number) => Math.ceil(length_m / raw.spacing_m - 1e-9);
  return trendStretches(series, {
    q: used.q,
    join: stations(used.joinWithin_m),
    minLength: Math.max(1, stations(used.minLength_m)),
    reach: stations(used.smoothing_m),
    inflation: used.inflation,
    draws: used.draws,
    seed: used.seed,
  });
}

/** Serial correlation is estimated at every fifth station: neighbours add no information. */
const STATIONS_APART = 5;

/** Variance factor for serial correlation between campaigns, its mean over the line. */
function pooledInflation(series: CampaignSeries): number {
  const c = series.campaigns.length;
  if (c < 10) return 1;
  let sum = 0;
  let count = 0;
  for (let k = 0; k < series.slices.length; k++) {
    for (let i = 0; i < series.chainage_m.length; i += STATIONS_APART) {
      const row = series.log10Ratio.map((columns) => columns[k]![i]!);
      if (present(row) < c) continue;
      sum += serialCorrelation(row);
      count++;
    }
  }
  const pooled = count > 0 ? Math.max(0, sum / count) : 0;
  return lagOneInflation(c, pooled);
}

/** Stations this near to an end are left out of the rate, m. */
const EDGE_M = 5;

/** The ends where the slope of the strongest slice passes half of its median within the stretch. */
function trimmed(series: CampaignSeries, { first, last, strongest, sign }: TrendStretch) {
  const years = yearsOf(series);
  const steepness = (i: number) =>
    sign *
    slopeOf(
      years,
      series.log10Ratio.map((columns) => columns[strongest]![i] ?? Number.NaN),
    );
  const inside = Array.from({ length: last - first + 1 }, (_, j) => steepness(first + j));
  const half = median(inside) / 2;
  let [from, to] = [first, last];
  while (from < to && !(steepness(from) >= half)) from++;
  while (to > from && !(steepness(to) >= half)) to--;
  return { first: from, last: to };
}

function trendIn(
  raw: RawSeries,
  series: CampaignSeries,
  { stretch, inflation }: { readonly stretch: TrendStretch; readonly inflation: number },
): Trend {
  const { strongest, sign, q } = stretch;
  const { first, last } = trimmed(series, stretch);
  // Not smoothed, and without the ends: a moving mean mixes them with the ground beside.
  const edge = Math.min(Math.round(EDGE_M / raw.spacing_m), Math.floor((last - first + 1) / 4));
  const means = raw.ratio.map((columns, c) => {
    const inside = columns[strongest]!.subarray(first + edge, last - edge + 1);
    const known = inside.filter((v) => !Number.isNaN(v));
    return known.reduce((sum, v) => sum + v, 0) / known.length - series.level[c]![strongest]!;
  });
  const { slope, interval } = theilSen(yearsOf(series), means, { level: 0.9, inflation });
  return {
    ...stationRange(raw, first, last),
    direction: sign > 0 ? "rises" : "falls",
    ratioPerYear: 10 ** slope,
    ratioPerYearInterval: [10 ** interval[0], 10 ** interval[1]],
    q,
    slices: stretch.slices.map((k) => depthText(raw.slices[k]!)),
    ratio: means.map((mean) => 10 ** mean),
  };
}
