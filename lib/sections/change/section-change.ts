/** How the ground under one line changed between two campaigns. */
export interface SectionChange {
  readonly line: string;
  readonly earlier: string;
  readonly later: string;
  readonly runs: "along" | "across";
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly cells: ChangeValues;
  /** Elevation of the surface at the middle of each column, m. */
  readonly surface_m: Float64Array;
  readonly electrodes: readonly { readonly x_m: number; readonly elevation_m: number }[];
  /** Connected cells that changed the same way, the most certain first. */
  readonly bodies: readonly ChangedBody[];
  /** Spreads measured in use in both campaigns, and in one of them only. */
  readonly pairs: number;
  readonly unpaired: number;
  /** Standard deviation of the differences' noise over that of the error models. */
  readonly noise: number;
  /** Normalised misfit of the differences. */
  readonly rms: number;
}

/** Cells in columns along the line, column by column from the surface down. */
export interface ChangeValues {
  readonly x_m: readonly number[];
  readonly depth_m: readonly number[];
  /** Posterior mean of log10 of later over earlier resistivity, and standard deviation. */
  readonly log10Ratio: Float64Array;
  readonly log10Sd: Float64Array;
  readonly p10: Float64Array;
  readonly p90: Float64Array;
  /** Probability of the likelier direction. */
  readonly probability: Float64Array;
  /** 1 rose, −1 fell, 0 not known to have changed. */
  readonly changed: Int8Array;
}

export interface ChangedBody {
  /** Along the line. */
  readonly from_m: number;
  readonly to_m: number;
  /** Below the surface. */
  readonly top_m: number;
  readonly base_m: number;
  readonly direction: "fell" | "rose";
  /** Later over earlier resistivity, mean (of the logarithm) over its cells. */
  readonly ratio: number;
  /** Mean over its cells. */
  readonly probability: number;
}
