import type { Campaign, ReadingNoise } from "../survey/survey.js";

/** A campaign in which readings that metal distorts are set aside: it is a campaign still. */
export interface Masked extends Campaign {
  /** Stretches set aside, by chainage; they do not overlap on one line. */
  readonly interference: readonly SetAsideStretch[];
  /** Stretches that the readings show and no note explains: go back and look. */
  readonly unexplained: readonly UnexplainedStretch[];
  /** Noted objects that no channel of any pass shows. */
  readonly silentNotes: readonly SilentNote[];
  /** Stretches shifted as a whole by something along the line, set aside or only reported. */
  readonly alongLine: readonly AlongLine[];
  /** The noise found, one entry for each channel of each pass. */
  readonly noise: readonly ChannelNoise[];
}

export interface SetAsideStretch {
  readonly campaign: string;
  readonly from_m: number;
  readonly to_m: number;
  /** "documented": noted, with a weak trace; "detected": seen, not noted; "both". */
  readonly cause: "documented" | "detected" | "both";
  /** The noted objects; "" where nothing was noted. */
  readonly object: string;
  /** Fields of the channels in which the effect shows. */
  readonly channels: readonly string[];
  /** Readings with a value that this stretch set aside, all channels of them. */
  readonly readings: number;
  /** Fields of the channels that stay in use within the stretch; left out where none does. */
  readonly spared?: readonly string[];
  /** Readings of which it set some channels aside; left out where there is none. */
  readonly partly?: number;
  /** Distance of the line from the centreline, positive to the left; null: lines at any offset. */
  readonly offset_m: number | null;
  /** Highest score within the stretch. */
  readonly score: number;
  /** True where an object along the line, such as a guard rail or cable, shifts it as a whole. */
  readonly along?: true;
  /** True where the readings jump one by one, as noise does and small metal may; else left out. */
  readonly jumps?: true;
}

export interface UnexplainedStretch {
  readonly campaign: string;
  readonly from_m: number;
  readonly to_m: number;
  readonly jumps?: true;
}

export interface AlongLine {
  readonly from_m: number;
  readonly to_m: number;
  /** Mean distance from any layered ground, in standard deviations of places elsewhere. */
  readonly score: number;
}

export interface SilentNote {
  readonly object: string;
  readonly from_m: number;
  readonly to_m: number;
}

/**
 * Noise of one reading: sqrt(floor² + (share × value)²). From repeats at a fixed spot it is the
 * instrument's alone; from readings of the walk it holds the small-scale variation of the ground as
 * well.
 */
export interface ChannelNoise extends ReadingNoise {
  /** The noise at the pass's middle value. */
  readonly typical: number;
  /** Scatter of neighbouring readings of the walk at that value: noise, ground, gait. */
  readonly walked: number;
  /** What the walk adds, % of the middle value; NaN without repeats, or where noise hides it. */
  readonly grain_pct: number;
  readonly from: "repeats" | "readings";
}
