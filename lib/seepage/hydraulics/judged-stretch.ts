import type { InputShare } from "./spread-shares.js";

/** The bank at one stretch as blanket theory takes it. */
export interface Base {
  /** Design water level over the ground at the toe, m. */
  readonly head_m: number;
  readonly baseWidth_m: number;
}

export interface Quantiles {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

/** What blanket theory and the rules of erosion say of one stretch at design water level. */
export interface StretchHydraulics extends Base {
  /** Upward gradient at the landside toe. */
  readonly exitGradient: Quantiles;
  /** Critical over exit gradient. */
  readonly safety: Quantiles;
  /** Critical head of backward erosion over the head. */
  readonly erosionSafety: Quantiles;
  /** Lane's and Bligh's ratios of the way along the base and up through the median blanket. */
  readonly creep: { readonly lane: number; readonly bligh: number };
  readonly blanket_m: Quantiles;
  readonly aquifer_m: Quantiles;
  /** Share of the gradient's spread that comes from each input, the largest first. */
  readonly shares: readonly InputShare[];
  /** Share of the differences along the bank that the data explain here, 0 to 1. */
  readonly told: number;
  readonly sources: string;
}

/** One stretch with what its hydraulics come to. */
export interface JudgedStretch {
  readonly from_m: number;
  readonly to_m: number;
  /** Null without a head or a cross-section. */
  readonly hydraulics: StretchHydraulics | null;
  /** Null where the data do not tell it from other stretches, and why. */
  readonly exitGradient: StretchHydraulics["exitGradient"] | null;
  readonly why: string;
}
