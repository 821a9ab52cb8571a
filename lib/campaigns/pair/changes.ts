import { type ChainageRange, type DepthRange, intervalText } from "../ranges.js";

/** Where the ground changed between two campaigns, the value of `compareCampaigns`. */
export interface Changes {
  readonly earlier: string;
  readonly later: string;
  /** What was compared: the channels that both walked, or (also where left out) the depth slices. */
  readonly by?: "channels" | "slices";
  readonly changes: readonly Change[];
  /**
   * Stretches whose channels differ as coils at another height, or channels with other zeros, would
   * make them, and not as the ground does: no changes. Left out where slices were compared.
   */
  readonly offsets?: readonly OffsetStretch[];
  /**
   * Stretches that differ by more than noise, and neither as the ground nor as an offset would make
   * them: what changed there is not told. Left out where slices were compared.
   */
  readonly unexplained?: readonly UnexplainedDifference[];
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
  readonly slices: readonly DepthRange[];
  /**
   * n shifts of the later campaign against the earlier one's chainage, m: what lies at x in the
   * earlier was read at x + shift in the later. Left out where nothing was aligned.
   */
  readonly shift_m?: Float64Array;
  /** n standard deviations of the same, m. */
  readonly shiftSd_m?: Float64Array;
  /**
   * By slice, what would have been found: no stretch is stated to be unchanged beyond this. Left out
   * where slices were compared.
   */
  readonly detectable?: readonly DetectableChange[];
  /** Stretches without an estimate in either campaign: unknown, not unchanged. */
  readonly unknown: readonly ChainageRange[];
}

export interface Change extends ChainageRange {
  readonly earlier: string;
  readonly later: string;
  /** Of the resistivity. */
  readonly direction: "fell" | "rose";
  /**
   * Later over earlier resistivity at 25 °C relative to the level of the stable majority, of the
   * slice in which the change stands out most: `ratio` of that entry of `bySlice`.
   */
  readonly ratio: number;
  /** Holds that ratio with 90 % probability. */
  readonly ratioInterval?: readonly [number, number];
  /** The effect by depth: every slice that both campaigns estimate in the stretch. */
  readonly bySlice?: readonly ChangeBySlice[];
  /**
   * p-value, adjusted for all that was tried: by channels for every stretch of the line, by slices
   * for false discoveries among stations, slices and stretches.
   */
  readonly q: number;
  /**
   * How much higher the coils would have to have been in the later campaign, m, to explain the
   * change nearly as well as the ground does; left out where no height does.
   */
  readonly heightOffset_m?: number;
  /** The slices in which it shows, as "0.0–1.0". */
  readonly slices: readonly string[];
}

/** A part of the line that a second operator may have walked. */
export interface OffsetStretch extends ChainageRange {
  readonly kind: "height" | "zero";
  /** How much higher the coils were in the later campaign, mean of the walks, m; 0 for zeros. */
  readonly height_m: number;
  /** True where a change of the ground explains it nearly as well: the channels do not tell. */
  readonly orGround?: true;
}

export interface UnexplainedDifference extends ChainageRange {
  /** p-value, adjusted for every stretch that was tried. */
  readonly q: number;
}

/** The least change of a slice that the test finds in nine of ten, at nine of ten places of the line. */
export interface DetectableChange extends DepthRange {
  /** Of the stretch that changes, m. */
  readonly length_m: number;
  /** Later over earlier resistivity, to three digits; null where none down to a tenth is found. */
  readonly fell: number | null;
  /** The same of a rise; null where none up to ten times is found. */
  readonly rose: number | null;
}

export interface ChangeBySlice extends DepthRange {
  /**
   * Later over earlier resistivity of the slice: posterior median, corrected for the estimates'
   * averaging kernels where slices were compared.
   */
  readonly ratio: number;
  /** Holds the ratio with 90 % probability. */
  readonly interval: readonly [number, number];
  /** The ratio of the estimates, before that correction; left out where channels were compared. */
  readonly seen?: number;
}

/** Such as " (90 %: 1.02–1.59)". */
export const rangeText = ({ ratioInterval }: Change) =>
  ratioInterval === undefined ? "" : ` (90 %: ${intervalText(ratioInterval)})`;
