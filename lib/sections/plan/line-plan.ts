import type { Section } from "../section.js";

/** A body in the ground, endless across the line. */
export interface LineTarget {
  /** Along the line, m, above 0. */
  readonly length_m: number;
  /** Depths of its top and base, m, 0 ≤ top < base. */
  readonly top_m: number;
  readonly base_m: number;
  /** Its resistivity over that of the layers it lies in, above 0 and not 1. */
  readonly resistivityRatio: number;
}

/** A line of electrodes laid for a target, and how often its section recovers it. */
export interface LinePlan {
  readonly target: LineTarget;
  readonly spacing_m: number;
  readonly electrodes: number;
  readonly length_m: number;
  /** The array that recovers the target most often; of equals the quicker one. */
  readonly best: PlannedArray;
  readonly arrays: readonly PlannedArray[];
}

/** One array on the planned electrodes. */
export interface PlannedArray {
  readonly array: string;
  readonly readings: number;
  /** Of measuring, cable and electrodes included. */
  readonly minutes: number;
  readonly trials: number;
  /** Trials in which the target is recovered. */
  readonly recovered: number;
  /** Probability to recover it, and its 80 % interval from that many trials. */
  readonly probability: number;
  readonly interval: readonly [number, number];
  /** Medians over the trials: body found and target, area shared over area of both; 0 to 1. */
  readonly overlap: number;
  /** Share of the target's area that is reliable. */
  readonly reliable: number;
  /** Share of the target's contrast, in ln ρ, that shows in it. */
  readonly contrast: number;
}

/** What the trials leave for the account: a line and its section that are as good as the median. */
export interface TypicalTrial {
  readonly section: Section;
  /** Of the target on that line, m from its first electrode. */
  readonly from_m: number;
  readonly to_m: number;
  readonly truth: (x_m: number, depth_m: number) => number;
}
