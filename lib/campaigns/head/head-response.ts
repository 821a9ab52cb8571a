import { itemAt } from "../../numerics/arrays.js";
import type { ChainageRange, DepthRange } from "../ranges.js";

/** How the resistivity of stretches follows the water, as `responseToHead` hands it on. */
export interface HeadResponse {
  /** "river" or a piezometer's name. */
  readonly point: string;
  /** c labels, by time. */
  readonly campaigns: readonly string[];
  /** c levels at the campaigns' times, m above the survey's datum; NaN where none was read near. */
  readonly head_m: readonly number[];
  readonly slices: readonly DepthRange[];
  readonly stretches: readonly StretchResponse[];
}

export interface StretchResponse extends ChainageRange {
  /** True where some slice follows the head beyond chance. */
  readonly responds: boolean;
  /** Least p-value of its slices, adjusted for false discoveries over all stretches and slices. */
  readonly q: number;
  readonly bySlice: readonly SliceResponse[];
  /** The slice that follows most surely, an index into `bySlice`. */
  readonly strongest: number;
}

export interface SliceResponse extends DepthRange {
  /** Factor of resistivity for one metre of head. */
  readonly ratioPerMetre: number;
  /** Holds that factor with 90 % probability. */
  readonly interval: readonly [number, number];
  readonly p: number;
  /** The same adjusted for false discoveries over all stretches and slices. */
  readonly q: number;
  /** Days after the head at which the resistivity follows best, of those tried. */
  readonly lag_days: number;
  /** Least and greatest of the tried lags that the data allow (90 %). */
  readonly lagRange_days: readonly [number, number];
  /** c mean ratios to the first campaign; NaN where unknown. */
  readonly ratio: readonly number[];
}

/** How the point is named in a sentence. */
export const pointText = (point: string) =>
  point === "river" ? "the river" : `piezometer ${point}`;

/** The slice that follows the head most surely. */
export const strongestSlice = ({ bySlice, strongest }: StretchResponse) =>
  itemAt(bySlice, strongest);
