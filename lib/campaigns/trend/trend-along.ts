import type { DepthSlices } from "../../depth/depth-slices.js";
import { firstOf, itemAt, valueAt, zipped } from "../../numerics/arrays.js";
import { mannKendall } from "../../numerics/statistics/mann-kendall.js";
import { presentCount, presentMean } from "../../numerics/statistics/present.js";
import { median } from "../../numerics/statistics/robust.js";
import { lagOneInflation, serialCorrelation } from "../../numerics/statistics/serial-inflation.js";
import { theilSen } from "../../numerics/statistics/theil-sen.js";
import { stationRange } from "../pair/unknown-stretches.js";
import { depthText } from "../ranges.js";
import { levelledSeries, type RawSeries, rawSeries } from "./campaign-series.js";
import type { TrendOptions } from "./options.js";
import type { CampaignSeries, CampaignTrend, Trend } from "./trend.js";
import { type TrendStretch, trendStretches } from "./trend-stretches.js";

const YEAR_S = 365.25 * 86400;
/** Fewer campaigns than this can never reach 5 %: even four in order have 2 / 4! = 8 %. */
const LEAST_CAMPAIGNS = 5;

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
  const still = testedSeries(raw, moving, used);
  for (const { first, last } of still.stretches) moving.fill(1, first, last + 1);
  const { series, inflation, stretches } = moving.includes(1)
    ? testedSeries(raw, moving, used)
    : still;
  const years = yearsOf(series);
  const byStation = (of: (row: readonly number[]) => number) =>
    raw.slices.map((_, k) =>
      raw.chainage_m.map((_, i) => {
        const row = rowAt(series, k, i);
        return presentCount(row) < 3 ? Number.NaN : of(row);
      }),
    );
  return {
    ...series,
    slope: byStation((row) => theilSen(years, row).slope),
    p: byStation((row) => mannKendall(row, { inflation }).p),
    inflation,
    trends: stretches.map((one) => trendIn(raw, series, { stretch: one, inflation })),
  };
}

const yearsOf = ({ time_s }: CampaignSeries) =>
  Array.from(time_s, (time) => (time - firstOf(time_s)) / YEAR_S);

/** Log ratios of a slice at a station, by campaign; missing beyond the line's ends. */
const rowAt = ({ log10Ratio }: CampaignSeries, k: number, i: number) =>
  log10Ratio.map((columns) => valueAt(itemAt(columns, k), i));

function testedSeries(raw: RawSeries, moving: Uint8Array, used: TrendOptions) {
  const series = levelledSeries(raw, moving, used);
  const inflation = pooledInflation(series);
  const stations = (length_m: number) => Math.ceil(length_m / raw.spacing_m - 1e-9);
  const rule = {
    ...used,
    inflation,
    join: stations(used.joinWithin_m),
    minLength: Math.max(1, stations(used.minLength_m)),
    reach: stations(used.smoothing_m),
  };
  const enough = raw.campaigns.length >= LEAST_CAMPAIGNS && raw.slices.length > 0;
  return { series, inflation, stretches: enough ? trendStretches(series, rule) : [] };
}

/** Serial correlation is estimated at every fifth station: neighbours add no information. */
const STATIONS_APART = 5;

/** Variance factor for serial correlation between campaigns, its mean over the line. */
function pooledInflation(series: CampaignSeries): number {
  const c = series.campaigns.length;
  if (c < 10) return 1;
  const correlations = series.slices.flatMap((_, k) =>
    Array.from({ length: Math.ceil(series.chainage_m.length / STATIONS_APART) }, (_, s) =>
      rowAt(series, k, STATIONS_APART * s),
    )
      .filter((row) => presentCount(row) === c)
      .map(serialCorrelation),
  );
  return lagOneInflation(c, Math.max(0, presentMean(correlations) || 0));
}

/** Stations this near to an end are left out of the rate, m. */
const EDGE_M = 5;

/** The ends where the slope of the strongest slice passes half of its median within the stretch. */
function trimmed(series: CampaignSeries, { first, last, strongest, sign }: TrendStretch) {
  const years = yearsOf(series);
  const steepness = (i: number) => {
    const row = rowAt(series, strongest, i);
    return presentCount(row) < 3 ? Number.NaN : sign * theilSen(years, row).slope;
  };
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
  const means = zipped(raw.ratio, series.level).map(([columns, level]) => {
    const inside = itemAt(columns, strongest).subarray(first + edge, last - edge + 1);
    return presentMean(inside) - itemAt(level, strongest);
  });
  const { slope, interval } = theilSen(yearsOf(series), means, { level: 0.9, inflation });
  return {
    ...stationRange(raw, first, last),
    direction: sign > 0 ? "rises" : "falls",
    ratioPerYear: 10 ** slope,
    ratioPerYearInterval: [10 ** interval[0], 10 ** interval[1]],
    q,
    slices: stretch.slices.map((k) => depthText(itemAt(raw.slices, k))),
    ratio: means.map((mean) => 10 ** mean),
  };
}
