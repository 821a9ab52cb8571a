import { coarseLine, coarsened } from "./coarse-line.js";
import { type LineInput, rawResiduals } from "./line-input.js";
import { channelCovariance, PresentFactors } from "./line-noise.js";
import { lineColumns, type Unknown } from "./line-unknowns.js";
import type { Offset } from "./offsets.js";
import { type LineResiduals, residualsOf, robustFit } from "./robust-fit.js";

/** The difference less what instrument, heights and season explain, and its noise. */
export interface DifferenceModel extends LineResiduals {
  /** n weights of stations: 0 in changed stretches, under 1 where the ground cannot explain them. */
  readonly weight: Float64Array;
  /** q × q covariance between channels, noise units. */
  readonly covariance: Float64Array;
  readonly factors: PresentFactors;
  readonly offsets: readonly Offset[];
}

/** A line with its means over a few stations, on which what is common to it is fitted. */
export interface ModelInput extends LineInput {
  readonly every: number;
  readonly coarse: LineInput;
  /** Unknowns of the whole line, at the stations and at the means. */
  readonly whole: readonly Unknown[];
  readonly coarseWhole: readonly Unknown[];
}

/** Stations averaged for the fit. */
const EVERY = 5;

export function modelInput(input: LineInput): ModelInput {
  const coarse = coarseLine(input, EVERY);
  const [whole, coarseWhole] = [lineColumns(input), lineColumns(coarse)];
  return { ...input, every: EVERY, coarse, whole, coarseWhole };
}

const ROUNDS = 8;

/** Robust fit of all channels at once; stations of `changed` (1) do not count. */
export function differenceModel(
  input: ModelInput,
  changed: Uint8Array,
  offsets: readonly Offset[],
): DifferenceModel {
  const { every } = input;
  const weight = input.quality.map((w, i) => (changed[i] === 1 ? 0 : w));
  const meets = (block: number) => changed.subarray(block * every, (block + 1) * every).includes(1);
  const fit = robustFit(input.coarse, {
    whole: input.coarseWhole,
    weight: input.coarse.quality.map((w, block) => (meets(block) ? 0 : w)),
    offsets: offsets.map((one) => coarsened(one, every)),
    rounds: ROUNDS,
  });
  const placed = offsets.map((one, k) => ({ ...one, value: fit.offsets[k]?.value ?? one.value }));
  const known = { whole: fit.whole, columns: input.whole, offsets: placed };
  const residuals = residualsOf(input, rawResiduals(input), known);
  const covariance = channelCovariance({ ...residuals, value: residuals.residual, weight });
  const factors = new PresentFactors(covariance, residuals.q);
  return { ...residuals, weight, covariance, factors, offsets: placed };
}
