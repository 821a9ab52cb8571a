import type { Centreline } from "../../survey/survey.js";

/** Where to drill, the value of `siteBoreholes`. */
export interface BoreholePlan {
  /** By falling priority. */
  readonly holes: readonly ProposedBorehole[];
  /** Why none is proposed; null where some are. */
  readonly refused: string | null;
  /** Length to drill, m. */
  readonly metres: number;
  /**
   * What the plan settles, m of bank as weighed; `before` is what the existing boreholes settle.
   */
  readonly settles_m: number;
  readonly before_m: number;
  /** What there is to settle, by part. */
  readonly parts: readonly PlanPart[];
  /** As many metres at equal spacing on the crest, for comparison. */
  readonly equal: EqualSpacing;
  /** n chainages with the share of the soil's variance that the nearest alike borehole tells. */
  readonly told: ToldAlong;
  /** Stretches in which no hole is proposed, and why. */
  readonly avoided: readonly AvoidedStretch[];
  readonly centreline: Centreline;
}

export interface ProposedBorehole {
  /** "P1", "P2", … by priority. */
  readonly id: string;
  readonly chainage_m: number;
  /** From the centreline, positive to the left. */
  readonly offset_m: number;
  readonly place: HolePlace;
  /** Below the ground at the hole. */
  readonly depth_m: number;
  /** What it is for, in a few words. */
  readonly purpose: string;
  /** What it would settle, in plain sentences. */
  readonly reason: string;
  /** 1 is drilled first. */
  readonly priority: number;
  /** What it adds to those of higher priority, m of bank as weighed. */
  readonly adds_m: number;
  /** Plans with it, of those made with one weight halved or doubled: within 30 m, same place. */
  readonly keptIn: number;
  readonly plansTried: number;
}

export type HolePlace = "crest" | "landside toe";

export type PartName = "soil" | "block" | "class" | "boundary" | "seepage" | "change";

/** One part of the gain: what there is to settle, and what is settled, m of bank as weighed. */
export interface PlanPart {
  readonly name: PartName;
  /** All there is. */
  readonly all_m: number;
  /** By the existing boreholes. */
  readonly before_m: number;
  /** With the plan. */
  readonly plan_m: number;
  /** With holes at equal spacing instead. */
  readonly equal_m: number;
}

export interface EqualSpacing {
  readonly holes: readonly { readonly chainage_m: number; readonly depth_m: number }[];
  readonly metres: number;
  readonly settles_m: number;
}

export interface ToldAlong {
  readonly chainage_m: Float64Array;
  readonly before: Float64Array;
  readonly plan: Float64Array;
  readonly equal: Float64Array;
}

export interface AvoidedStretch {
  readonly from_m: number;
  readonly to_m: number;
  readonly why: string;
}
