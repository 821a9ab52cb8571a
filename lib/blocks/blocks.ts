import type { Centreline } from "../survey/survey.js";
import type { ShortBody } from "./short-bodies.js";

/** Stretches of similar ground, the value of `segmentBlocks`. */
export interface Blocks {
  readonly campaign: string;
  readonly blocks: readonly Block[];
  readonly objective: number;
  readonly penalty: number;
  readonly centreline: Centreline;
  /** Where boundaries may lie, and how many there may be; left out by hand-made blocks. */
  readonly posterior?: BlocksPosterior;
  /** The best cuts at other prices, by rising price. */
  readonly path?: readonly BlocksPathStep[];
  /**
   * Factor by which the level wanders in 100 m beside its boundaries; left out where it does not.
   */
  readonly wandersBy?: number;
  /** Ground shorter than the shortest block that differs from both sides; left out without any. */
  readonly shortBodies?: readonly ShortBody[];
}

/** The exact posterior of the cut. */
export interface BlocksPosterior {
  /** n stations, m. */
  readonly chainage_m: Float64Array;
  /** n probabilities that a boundary lies between the station before and this one. */
  readonly probability: Float64Array;
  /** Probability of 0, 1, 2, … boundaries; the last entry is for that many and more. */
  readonly numberProbability: readonly number[];
}

export interface BlocksPathStep {
  /** The prices over which these are the boundaries, in multiples of the price that was used. */
  readonly price: readonly [number, number];
  readonly boundaries_m: readonly number[];
}

export interface Block {
  /** "B1", "B2", … by chainage. */
  readonly id: string;
  readonly from_m: number;
  readonly to_m: number;
  /** 90 % intervals of the two ends; a survey's own ends have zero width. */
  readonly fromInterval_m: readonly [number, number];
  readonly toInterval_m: readonly [number, number];
  /** A letter, one for similar ground; from conductive to resistive. */
  readonly class: string;
  readonly resistivity_ohm_m: readonly BlockSlice[];
  /** Stations with an estimate. */
  readonly stations: number;
  /** Share of the block's length without an estimate, %. */
  readonly masked_pct: number;
  /**
   * Probability that there is a boundary where the block begins, and not a ramp, a level that
   * wanders, or nothing; 1 at the line's start.
   */
  readonly fromProbability?: number;
  /** Probability that a boundary lies within 5 m (or 1.5 stations) of the block's start. */
  readonly fromNearProbability?: number;
  /** Probability that the block belongs to its class, among the classes found. */
  readonly classProbability?: number;
  /**
   * Where the ground changes steadily through the block, its resistivity at both ends by reliable
   * slice, ohm-m: it is not of one make. Left out where it is level.
   */
  readonly trend?: readonly { readonly from_ohm_m: number; readonly to_ohm_m: number }[];
  /**
   * The least step in all slices that would be found in the middle of the block in four lines of
   * five, %. Left out where a price was given.
   */
  readonly leastStep_pct?: number;
  /** Robust scatter of the stations about the block's medians, decades, over its slices. */
  readonly heterogeneity?: number;
}

export interface BlockSlice {
  readonly top_m: number;
  readonly base_m: number;
  readonly median: number;
  readonly p10: number;
  readonly p90: number;
}
