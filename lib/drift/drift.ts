import type { Campaign } from "../survey/survey.js";
import type { ZeroLevel } from "./zero/zero-level.js";

/** A campaign with its instrument drift removed, and what was removed: it is a campaign still. */
export interface DriftCorrected extends Campaign {
  /** One entry a channel, in the order of the passes and their channels. */
  readonly drift: readonly ChannelDrift[];
  /** What the height test gave, where there was one. */
  readonly zeroLevel?: ZeroLevel;
}

/** The drift of one channel over one campaign, in the channel's unit. */
export interface ChannelDrift {
  readonly campaign: string;
  /** The channel's field. */
  readonly channel: string;
  /** The model of the curve that was taken off; "none": the values were left as they are. */
  readonly model: DriftModel | "none";
  /** Mean slope over the campaign without steps, unit per hour; NaN where it is unknown. */
  readonly perHour: number;
  /** Standard error of `perHour`; NaN where it is not determined. */
  readonly perHourError: number;
  /** Sudden changes of level, such as at a battery change, by time. */
  readonly steps: readonly DriftStep[];
  /**
   * Robust scatter of the checks about the drift curve that the other checks give; where no check
   * lies between two others, the scatter of the repeats. NaN where neither is known.
   */
  readonly residual: number;
  /** Visits to the fixed spot that gave this channel a value. */
  readonly checks: number;
  /** Probability of checks as uneven as these from an instrument that does not drift. */
  readonly p: number;
  /** Why the values were left as they are; "" where they were corrected. */
  readonly reason: string;
  /** The data behind the estimate. */
  readonly from: "base checks" | "crossings" | "base checks and crossings" | "nothing";
  /** Pairs of readings at the same place at different times that took part. */
  readonly pairs: number;
  /** For each model, root mean square by which it misses checks left out; NaN where none can be. */
  readonly leftOut: Readonly<Record<DriftModel, number>>;
  /** Posterior probability of each kind, in sum 1; null where the data determine none. */
  readonly odds: Readonly<Record<DriftKind, number>> | null;
  /** Bayes factor of a drift or a step against neither; NaN likewise. */
  readonly evidence: number;
  /** Scatter of whole visits to be expected beside that of their repeats, channel's unit. */
  readonly visitScatter: number;
}

/**
 * The average over all kinds of drift by how likely each is; straight between visits; wandering
 * about a line in its level, or in its slope.
 */
export type DriftModel = "average" | "piecewise-linear" | "random-walk" | "smoothing-spline";

/** Kinds of drift that are averaged over. */
export type DriftKind = "steady" | "straight" | "warm-up" | "swinging" | "wandering";

export interface DriftStep {
  /** s since 1970-01-01T00:00Z. */
  readonly time_s: number;
  /** Level after minus level before. */
  readonly size: number;
}
