/** Where the ground changed between two campaigns, as `compareCampaigns` hands it on. */
export interface Changes {
  readonly earlier: string;
  readonly later: string;
  readonly changes: readonly Change[];
  /** n shared stations. */
  readonly chainage_m: Float64Array;
  /**
   * For each slice, n values of log10(later / earlier) resistivity at 25 °C, less the level and
   * smoothed along the line as the options say; NaN where unknown.
   */
  readonly log10Ratio: readonly Float64Array[];
  /** For each slice, n standard deviations of the same. */
  readonly sd: readonly Float64Array[];
  /** For each slice, the level between campaigns that was removed, log10. */
  readonly level: readonly number[];
  readonly slices: readonly { readonly top_m: number; readonly base_m: number }[];
  /** Stretches that are set aside or without readings in either campaign: unknown, not unchanged. */
  readonly unknown: readonly { readonly from_m: number; readonly to_m: number }[];
}

export interface Change {
  readonly from_m: number;
  readonly to_m: number;
  readonly earlier: string;
  readonly later: string;
  /** Of the resistivity. */
  readonly direction: "fell" | "rose";
  /**
   * Later over earlier resistivity at 25 °C relative to the level of the stable majority, median
   * over the stretch in the strongest slice.
   */
  readonly ratio: number;
  /** The least p-value of its stations and slices, adjusted for false discoveries among stretches. */
  readonly q: number;
  /** The slices in which it shows, as "0.0–1.0". */
  readonly slices: readonly string[];
}
