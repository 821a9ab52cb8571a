import type { ErrorKind } from "../field/errors.js";
import type { InstrumentKind } from "../field/instruments.js";
import type { GroundKind } from "../ground/grounds.js";
import { correctDrift, type DepthOptions, estimateDepthSlices } from "../lib.js";
import { makeSurvey, type SlopesPlan } from "../survey.js";
import { campaignsOf } from "../written/in-memory.js";
import { errorBetween, type SliceScore, scoreSlices } from "./score.js";

/** One survey to judge the estimate of resistivity by depth on. */
export interface Case {
  readonly ground: GroundKind;
  readonly instrument: InstrumentKind;
  readonly errors: ErrorKind;
  readonly seed: number;
  /** Default level ground. */
  readonly slopes?: SlopesPlan;
}

export interface Judged extends Case {
  readonly reliableTo_m: number;
  readonly rms: number;
  readonly slices: readonly SliceScore[];
  /** Median |error| of the layered model in each of `WINDOWS_M`, log10. */
  readonly windows: readonly number[];
  readonly seconds: number;
}

export const WINDOWS_M: readonly (readonly [number, number])[] = [
  [0, 1],
  [1, 2.5],
  [2.5, 5],
];

/** Drift and depth slices of one made survey, held against its truth. */
export async function judge(one: Case, options: Partial<DepthOptions> = {}): Promise<Judged> {
  const made = makeSurvey(one);
  const corrected = correctDrift(campaignsOf(made)[0]!);
  const start = performance.now();
  const { value } = await estimateDepthSlices(corrected, options);
  const seconds = (performance.now() - start) / 1000;
  return {
    ...one,
    reliableTo_m: value.reliableTo_m,
    rms: value.rms,
    slices: scoreSlices(value, made.truth),
    windows: WINDOWS_M.map((window) => errorBetween(value, made.truth, window)),
    seconds,
  };
}
