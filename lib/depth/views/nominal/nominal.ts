import type { Channel } from "../../../survey/survey.js";

/** Apparent conductivity by channel along the crest, at nominal depths. */
export interface NominalView {
  readonly campaign: string;
  /** n stations, multiples of the spacing. */
  readonly chainage_m: Float64Array;
  readonly spacing_m: number;
  /** Quadrature and conductivity channels, coil pair by coil pair, frequencies rising. */
  readonly channels: readonly NominalChannel[];
  /** Independent levels that all these channels hold together. */
  readonly independentLevels: number;
  /** Conductivity of the half-space for which depths and shares are computed, mS/m. */
  readonly ground_mS_per_m: number;
  /** Median height of the coils, m. */
  readonly height_m: number;
  /** For each station why it has no value at all, in a word or two; "" where it has one. */
  readonly gap: readonly string[];
}

export interface NominalChannel
  extends Pick<Channel, "field" | "kind" | "orientation" | "separation_m" | "frequency_Hz"> {
  /** Of the coil pair, see `nominalDepth`; the same for all frequencies. */
  readonly nominalDepth_m: number;
  /** Depth above which half of the channel's whole sensitivity lies, over the half-space. */
  readonly medianDepth_m: number;
  readonly skinDepth_m: number;
  /** n low-induction apparent conductivities, mS/m; NaN where there is none. */
  readonly apparent_mS_per_m: Float64Array;
  /** Median of the conductivities of the half-spaces that give the same readings, mS/m. */
  readonly halfSpace_mS_per_m: number;
  /** Standard deviation of a station's value, mS/m. */
  readonly noise_mS_per_m: number;
  /** Share of the channel's information that the other channels hold as well, 0 to 1. */
  readonly shared: number;
  /** The channel of the largest correlation with it; "" where there is no other. */
  readonly nearest: string;
  /** m values: its share of sensitivity for each metre of depth, at `sensitivityDepth_m`. */
  readonly sensitivity_per_m: Float64Array;
  readonly sensitivityDepth_m: Float64Array;
}
