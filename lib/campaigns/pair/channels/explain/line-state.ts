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
  return scanned(keptFit(input, { offsets, changed: marks.changed }, options), marks, options);
}

type Fit = Omit<LineState, "scan">;

/**
 * The first fits of a line: a search at another error rate begins with them. So many doubles are
 * held of a line; the rest is fitted again.
 */
const fits = new WeakMap<ModelInput, Map<string, Fit>>();
const HELD = 4e6;

function keptFit(
  input: ModelInput,
  { changed, offsets }: Pick<Marks, "changed"> & { readonly offsets: readonly Offset[] },
  { prior }: StateOptions,
): Fit {
  const known = fits.get(input) ?? new Map<string, Fit>();
  fits.set(input, known);
  const fixed = offsets.map((one) => ({ ...one, value: [...one.value] }));
  const key = JSON.stringify([changed.join(""), fixed, [...prior]]);
  const before = known.get(key);
  if (before !== undefined) return before;
  const model = differenceModel(input, changed, offsets);
  const fit = { model, scores: groundScores(input, model, prior) };
  const size = FIT_COLUMNS * input.noise.length;
  if ((known.size + 1) * size <= HELD) known.set(key, fit);
  return fit;
}

/** A fit holds so many columns of stations × channels: residuals, offsets, scores. */
const FIT_COLUMNS = 8;

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
