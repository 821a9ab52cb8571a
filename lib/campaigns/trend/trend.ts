import type { ChainageRange, DepthRange } from "../ranges.js";

/** Several campaigns of one line, co-registered, as the steps over campaigns use them. */
export interface CampaignSeries {
  /** c labels, by time. */
  readonly campaigns: readonly string[];
  /** c mean times, s since 1970. */
  readonly time_s: Float64Array;
  /** n stations of the first campaign that every other campaign covers. */
  readonly chainage_m: Float64Array;
  readonly slices: readonly DepthRange[];
  /**
   * By campaign and slice, n values of log10 resistivity over that of the first campaign, at 25 °C
   * where soil temperatures allow, less the campaign's level, as a moving mean; NaN where unknown.
   */
  readonly log10Ratio: readonly (readonly Float64Array[])[];
  /** By campaign and slice, the level that was taken off, log10. */
  readonly level: readonly (readonly number[])[];
  /** Stretches without an estimate in too many campaigns. */
  readonly unknown: readonly ChainageRange[];
}

/** Where the ground goes one way over five campaigns or more. */
export interface CampaignTrend extends CampaignSeries {
  /** For each slice, n Theil-Sen slopes, log10 a year; NaN under three estimates. */
  readonly slope: readonly Float64Array[];
  /** For each slice, n Mann-Kendall p-values, of single stations. */
  readonly p: readonly Float64Array[];
  /** Factor on the variance of Mann-Kendall's S for serial correlation between campaigns. */
  readonly inflation: number;
  readonly trends: readonly Trend[];
}

export interface Trend extends ChainageRange {
  /** Of the resistivity. */
  readonly direction: "falls" | "rises";
  /** Factor a year of the strongest slice's mean over the stretch. */
  readonly ratioPerYear: number;
  /** Holds that factor with at least 90 % probability. */
  readonly ratioPerYearInterval: readonly [number, number];
  /** Probability of so strong a stretch anywhere on the line by chance, had nothing a trend. */
  readonly q: number;
  /** The slices in which it shows, as "0.0–1.0". */
  readonly slices: readonly string[];
  /** c mean ratios to the first campaign in the strongest slice; NaN where unknown. */
  readonly ratio: readonly number[];
}
