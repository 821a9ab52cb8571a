import type { Centreline } from "../survey/survey.js";
import type { DetectionBySize } from "./detection.js";
import type { JudgedStretch, StretchHydraulics } from "./hydraulics/judged-stretch.js";

/** Stretches where seepage evidence gathers, as `scoreSeepage` hands them on. */
export interface Seepage {
  /** Ranked, the strongest first. */
  readonly zones: readonly SeepageZone[];
  /** n cells along chainage, for the figure and for a reader who wants the whole line. */
  readonly chainage_m: Float64Array;
  /** n sums of weights, log-odds, the starting odds included. */
  readonly score: Float64Array;
  readonly pieces: readonly EvidencePiece[];
  /** The weights that were used: as declared, or drawn towards what incidents show. */
  readonly weights: Readonly<Record<EvidenceName, UsedWeight>>;
  /** Bodies of sand by size, and how often one would have made a zone. */
  readonly detection: readonly DetectionBySize[];
  /** The bank in stretches of equal length, with their hydraulics at design water level. */
  readonly stretches: readonly JudgedStretch[];
  readonly centreline: Centreline;
}

/** Weights of one piece of evidence, log-odds (natural): where it is present, and where absent. */
export interface EvidenceWeight {
  readonly present: number;
  readonly absent: number;
}

export interface UsedWeight extends EvidenceWeight {
  /** Standard deviation of both. */
  readonly sd: number;
  readonly from: "declared" | "incidents";
}

/** One named piece of evidence along the line. */
export interface EvidencePiece {
  readonly name: EvidenceName;
  /** n values, 0 (absent) to 1 (present); NaN where nothing is known. */
  readonly value: Float64Array;
  /** n weights, log-odds; 0 where nothing is known. */
  readonly weight: Float64Array;
  /** The data and the model under which the values hold. */
  readonly source: string;
}

export type EvidenceName =
  | "pervious under cover"
  | "resistive core"
  | "section anomaly"
  | "thin blanket at the toe"
  | "wetter at high water"
  | "recorded incident"
  | "crossing or boundary";

export interface SeepageZone {
  readonly rank: number;
  readonly from_m: number;
  readonly to_m: number;
  /** Mean over the zone's cells of the sum of weights, log-odds. */
  readonly score: number;
  /** The score as a probability under the weights, for ranking; not one of failure. */
  readonly probability: number;
  readonly band: SeepageBand;
  /** Under weights drawn from their ranges: 80 % of the ranks, and how often the band stays. */
  readonly rankRange: readonly [number, number];
  readonly bandKept: number;
  readonly evidence: readonly ZoneEvidence[];
  /** Why there is no gradient of its own; "" where there is one. */
  readonly gradientWhy: string;
  /** All of the hydraulics, as far as ranges go; null without a head or a cross-section. */
  readonly hydraulics: StretchHydraulics | null;
  /** Landward exit gradient at design water level; null where the data do not tell it. */
  readonly exitGradient: {
    readonly p10: number;
    readonly p50: number;
    readonly p90: number;
  } | null;
}

export type SeepageBand = "low" | "moderate" | "high";

export interface ZoneEvidence {
  readonly name: EvidenceName;
  readonly weight: number;
  /** 0 to 1; null where nothing is known. */
  readonly value: number | null;
  readonly statement: string;
  readonly source: string;
}
