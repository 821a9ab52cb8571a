import type { Centreline } from "../survey/survey.js";

/** Stretches of like ground, as `segmentBlocks` hands them on. */
export interface Blocks {
  readonly campaign: string;
  readonly blocks: readonly Block[];
  readonly objective: number;
  readonly penalty: number;
  readonly centreline: Centreline;
}

export interface Block {
  /** "B1", "B2", … by chainage. */
  readonly id: string;
  readonly from_m: number;
  readonly to_m: number;
  /** 90 % intervals of the two ends; a survey's own ends have zero width. */
  readonly fromInterval_m: readonly [number, number];
  readonly toInterval_m: readonly [number, number];
  /** A letter; like letters are like ground. Ordered from conductive to resistive. */
  readonly class: string;
  readonly resistivity_ohm_m: readonly BlockSlice[];
  /** Stations with an estimate. */
  readonly stations: number;
  /** Share of the block's length without an estimate, %. */
  readonly masked_pct: number;
}

export interface BlockSlice {
  readonly top_m: number;
  readonly base_m: number;
  readonly median: number;
  readonly p10: number;
  readonly p90: number;
}
