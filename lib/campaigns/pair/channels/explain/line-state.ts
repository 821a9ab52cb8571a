import {
  type DifferenceModel,
  differenceModel,
  type ModelInput,
} from "../line/difference-model.js";
import type { Offset } from "../line/offsets.js";
import { type GroundScores, groundScores } from "../scan/ground-scores.js";
import { StretchScan } from "../scan/stretch-scan.js";

/** The line as it is known at one moment of its explaining. */
export interface LineState {
  readonly model: DifferenceModel;
  readonly scores: GroundScores;
  readonly scan: StretchScan;
}

/** Errors of heights: an offset's effect as a share of it, and how evenly coils are carried, m. */
export const HEIGHT_ERRORS = { offsetError: 0.1, height_m: 0.01 };

export interface StateOptions {
  /** Stations of the shortest stretch. */
  readonly least: number;
  readonly mismatch_m: number;
  /** m × m prior covariance of a change. */
  readonly prior: Float64Array;
}

/** n marks each: the stations that have been explained, and of these those where the ground changed. */
export interface Marks {
  readonly taken: Uint8Array;
  readonly changed: Uint8Array;
}

/** All channels fitted without what changed, and the line scanned. */
export function fittedState(
  input: ModelInput,
  { offsets, ...marks }: Marks & { readonly offsets: readonly Offset[] },
  options: StateOptions,
): LineState {
  const model = differenceModel(input, marks.changed, offsets);
  const scores = groundScores(input, model, options.prior);
  return scanned({ model, scores }, marks, options);
}

/** A fit that stays, scanned with other marks. */
export function scanned(
  { model, scores }: Omit<LineState, "scan">,
  marks: Marks,
  { least, mismatch_m }: StateOptions,
): LineState {
  const taken = marks.taken.slice();
  const scan = new StretchScan(scores, { least, mismatch_m, ...marks, taken, ...HEIGHT_ERRORS });
  return { model, scores, scan };
}
