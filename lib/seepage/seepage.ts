import type { Centreline } from "../survey/survey.js";

/** Stretches where seepage evidence gathers, as `scoreSeepage` hands them on. */
export interface Seepage {
  /** Ranked, the strongest first. */
  readonly zones: readonly SeepageZone[];
  /** n cells along chainage, for the figure and for a reader who wants the whole line. */
  readonly chainage_m: Float64Array;
  /** n sums of weights, log-odds, the starting odds included. */
  readonly score: Float64Array;
  readonly pieces: readonly EvidencePiece[];
  readonly centreline: Centreline;
}

/** One named piece of evidence along the line. */
export interface EvidencePiece {
  readonly name: EvidenceName;
  /** n values, 0 (absent) to 1 (present); NaN where nothing is known. */
  readonly value: Float64Array;
  /** n weights, log-odds; 0 where nothing is known. */
  readonly weight: Float64Array;
}

export type EvidenceName =
  | "pervious layer"
  | "thin blanket"
  | "wetter at high water"
  | "recorded incident"
  | "structure"
  | "change of make"
  | "contrast at the toe";

export interface SeepageZone {
  readonly rank: number;
  readonly from_m: number;
  readonly to_m: number;
  /** Mean over the zone's cells of the sum of weights, log-odds. */
  readonly score: number;
  /** The score as a probability under the declared weights, for ranking; not one of failure. */
  readonly probability: number;
  readonly band: "low" | "moderate" | "high";
  readonly evidence: readonly ZoneEvidence[];
  /** Landward exit gradient at design water level; null without water level or cross-section. */
  readonly exitGradient: {
    readonly p10: number;
    readonly p50: number;
    readonly p90: number;
  } | null;
}

export interface ZoneEvidence {
  readonly name: EvidenceName;
  readonly weight: number;
  /** 0 to 1; null where nothing is known. */
  readonly value: number | null;
  readonly statement: string;
}
