import { itemAt } from "../../../../numerics/arrays.js";
import { coarseLine, coarsened } from "./coarse-line.js";
import { type LineInput, rawResiduals } from "./line-input.js";
import { channelCovariance, PresentFactors, type Residuals } from "./line-noise.js";
import { lineColumns, type Unknown } from "./line-unknowns.js";
import type { Offset } from "./offsets.js";
import {
  type FittedLine,
  fitStart,
  fittedLine,
  type LineResiduals,
  meanRow,
  residualsOf,
  robustFit,
} from "./robust-fit.js";

/** The difference less what instrument, heights and season explain, and its noise. */
export interface DifferenceModel extends LineResiduals {
  /** n weights of stations: 0 in changed stretches, under 1 where the ground cannot explain them. */
  readonly weight: Float64Array;
  /** q × q covariance between channels, noise units. */
  readonly covariance: Float64Array;
  readonly factors: PresentFactors;
  readonly offsets: readonly Offset[];
  /** n × q: what the offsets may be off by, channel by channel, for ground that is not known. */
  readonly offsetError: Float64Array;
}

/** A line with its means over a few stations, on which what is common to it is fitted. */
export interface ModelInput extends LineInput {
  readonly every: number;
  readonly coarse: LineInput;
  readonly coarseLine: FittedLine;
  /** Unknowns of the whole line, at the stations. */
  readonly whole: readonly Unknown[];
  readonly raw: Float64Array;
  /** q × m, noise units: the mean over the line for each ln conductivity. */
  readonly meanByLayer: Float64Array;
}

/** Stations averaged for the fit. */
const EVERY = 5;

export function modelInput(input: LineInput): ModelInput {
  const coarse = coarseLine(input, EVERY);
  return {
    ...input,
    every: EVERY,
    coarse,
    coarseLine: fittedLine(coarse),
    whole: lineColumns(input),
    raw: rawResiduals(input),
    meanByLayer: meanByLayer(input),
  };
}

function meanByLayer({ response, noise, pair }: LineInput): Float64Array {
  const q = pair.channels.length;
  const m = response.top_m.length;
  const n = noise.length / q;
  const mean = new Float64Array(q * m);
  for (let at = 0; at < noise.length; at++) {
    const sd = noise[at]!;
    if (Number.isNaN(sd)) continue;
    const from = (at % q) * m;
    for (let j = 0; j < m; j++) mean[from + j]! += response.byLayer[at * m + j]! / sd / n;
  }
  return mean;
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
  const blocks = input.coarse.quality.map((w, block) => (meets(block) ? 0 : w));
  const fit = robustFit(fitStart(input.coarseLine, blocks), {
    offsets: offsets.map((one) => coarsened(one, every)),
    rounds: ROUNDS,
  });
  const placed = offsets.map((one, k) => ({ ...one, value: fit.offsets[k]?.value ?? one.value }));
  const known = { whole: fit.whole, columns: input.whole, offsets: placed };
  const { removed, ...residuals } = residualsOf(input, input.raw, known);
  const covariance = channelCovariance({ ...residuals, value: residuals.residual, weight });
  const factors = new PresentFactors(covariance, residuals.q);
  return {
    ...residuals,
    removed: contrasts({ value: removed, q: residuals.q, weight }),
    weight,
    covariance,
    factors,
    offsets: placed,
    offsetError: offsetErrors(input, placed, weight),
  };
}

/** How far the effect of heights, less their mean over the line, may be off. */
function offsetErrors(
  { pair, response, noise }: ModelInput,
  offsets: readonly Offset[],
  weight: Float64Array,
): Float64Array {
  const { passes } = pair;
  const higher = new Float64Array(weight.length * passes);
  for (const { first, last, kind, value } of offsets) {
    if (kind !== "height") continue;
    for (let i = first; i <= last; i++) {
      for (let walk = 0; walk < passes; walk++) higher[i * passes + walk]! += itemAt(value, walk);
    }
  }
  const apart = contrasts({ value: higher, q: passes, weight });
  const q = pair.channels.length;
  return noise.map((sd, at) => {
    const h = apart[Math.floor(at / q) * passes + itemAt(pair.channels, at % q).pass]!;
    return h === 0 ? 0 : (Math.abs(h) * response.firstError[at]!) / sd;
  });
}

/**
 * What was taken off, less its mean over the line: the level of the whole takes the mean, so that an
 * error of an offset shows on either side of its end.
 */
function contrasts(removed: Residuals): Float64Array {
  const { row } = meanRow(removed, 0, removed.weight.length - 1);
  return removed.value.map((v, at) => v - (row[at % removed.q]! || 0));
}
