import { type Fault, quoted, StepError } from "../result/step-error.js";
import { differenceNoise } from "./difference-noise.js";
import { bestSegmentation } from "./penalised-segmentation.js";
import { presentSamples, type SegmentCosts, segmentCosts } from "./segment-cost.js";

export interface ChangePointOptions {
  /**
   * The price of a break, in units of squared noise: a number ≥ 0, the same for every break, or
   * "mbic", the modified Bayes information criterion (below). Default "mbic".
   */
  readonly penalty?: number | "mbic";
  /** Fewest samples of a segment, missing ones included; a whole number ≥ 1. Default 1. */
  readonly minLength?: number;
  /**
   * Noise **variance** of each column, in the column's unit squared, > 0. Default: the square of the
   * robust scale (1.4826 × median absolute deviation) of first differences, over 2.
   */
  readonly noise?: readonly number[];
}

export const changePointDefaults = Object.freeze({ penalty: "mbic", minLength: 1 } as const);

export interface ChangePoints {
  /** Index of the first sample of each later segment, rising; empty where there is one segment. */
  readonly breaks: readonly number[];
  /** The least penalised cost. */
  readonly objective: number;
}

/**
 * The best cut of a row of samples into segments of constant mean, in several columns at once.
 *
 * Minimises, exactly and over all numbers and places of breaks,
 * Σ columns Σ segments Σ (value − segment mean)² / noise variance + penalty × breaks.
 * With penalty "mbic" the second term is 2 m ln n + Σ columns [Σ segments ln nᵢ − ln n_c] for m
 * breaks, n samples that are present in any column, n_c present in column c and nᵢ of these in
 * segment i: two for the place of each break and one for each mean that is fitted. For one column
 * without gaps this is 3 m ln n + Σ ln(nᵢ / n), the published form on the scale of −2 log
 * likelihood; for d columns (2 + d) m ln n + d Σ ln(nᵢ / n).
 *
 * @param columns d columns of n samples each, in the same order along the line.
 * @param options see each option.
 *
 * Missing values (NaN) add no cost and count for no mean, but keep their place in the order and
 * in `minLength`. Among equal optima the earliest breaks are taken, so a break that could stand
 * anywhere in a gap stands at its start. A row shorter than `minLength` is one segment.
 *
 * Limits: the noise is taken to be independent from sample to sample and column to column; where
 * it is not, hand in a variance that is inflated accordingly, as `segmentBlocks` does, or false
 * breaks appear. Time grows with n where breaks come regularly, and with n² where there are none.
 *
 * Throws a StepError with every fault of the input.
 *
 * Source: Jackson et al. 2005, IEEE Signal Processing Letters 12, 105–108 (optimal partitioning);
 * Killick, Fearnhead & Eckley 2012, Journal of the American Statistical Association 107,
 * 1590–1598 (pruning); Zhang & Siegmund 2007, Biometrics 63, 22–32 (mBIC, one column).
 *
 * @example findChangePoints([[0, 1, 0, 1, 9, 8, 9, 8]], { penalty: 4, noise: [1] });
 * // { breaks: [4], objective: 6 }
 */
export function findChangePoints(
  columns: readonly ArrayLike<number>[],
  options: ChangePointOptions = {},
): ChangePoints {
  const faults = [...columnFaults(columns), ...optionFaults(columns, options)];
  if (faults.length > 0) throw new StepError("findChangePoints", faults);
  const penalty = options.penalty ?? changePointDefaults.penalty;
  const noise = options.noise ?? columns.map(differenceNoise);
  const costs = segmentCosts(columns, noise, penalty === "mbic" ? 1 : 0);
  return cheapestCut(costs, penalty, options.minLength ?? changePointDefaults.minLength);
}

/** The core: valid input; with "mbic", `costs.lengthWeight` says what a fitted mean counts for. */
export function cheapestCut(
  costs: SegmentCosts,
  penalty: number | "mbic",
  minLength: number,
): ChangePoints {
  if (penalty !== "mbic") {
    const { breaks, total } = bestSegmentation(costs, penalty, minLength);
    return { breaks, objective: total };
  }
  const price = 2 * Math.log(Math.max(1, presentSamples(costs)));
  const { breaks, total } = bestSegmentation(costs, price, minLength);
  return { breaks, objective: total - oneSegmentLengthTerm(costs) };
}

function oneSegmentLengthTerm(costs: SegmentCosts): number {
  const { samples, columns: d, count, log, lengthWeight } = costs;
  let term = 0;
  for (let c = 0; c < d; c++) term += lengthWeight * log[count[samples * d + c]!]!;
  return term;
}

function columnFaults(columns: readonly ArrayLike<number>[]): Fault[] {
  const samples = columns[0]?.length ?? 0;
  if (!(samples > 0)) {
    const received = columns.length === 0 ? "no column" : "an empty column";
    return [
      { code: "empty", path: "columns", expected: "columns of at least one sample", received },
    ];
  }
  return columns.flatMap((column, c) => [
    ...lengthFault(column, c, samples),
    ...valueFault(column, c),
  ]);
}

function lengthFault(column: ArrayLike<number>, c: number, samples: number): Fault[] {
  if (column.length === samples) return [];
  const expected = `${samples} samples long, like columns[0]`;
  return [
    { code: "column-length", path: `columns[${c}]`, expected, received: String(column.length) },
  ];
}

function valueFault(column: ArrayLike<number>, c: number): Fault[] {
  const bad = Array.from(column, (value, i) => ({ value, i })).filter(
    ({ value }) => !usable(value),
  );
  if (bad.length === 0) return [];
  const received = `${quoted(bad[0]!.value)} (${bad.length} such values)`;
  const path = `columns[${c}][${bad[0]!.i}]`;
  return [{ code: "value", path, expected: "a finite number, or NaN where missing", received }];
}

const usable = (value: unknown) =>
  typeof value === "number" && value !== Number.POSITIVE_INFINITY && value !== -Infinity;

function optionFaults(
  columns: readonly ArrayLike<number>[],
  options: ChangePointOptions,
): readonly Fault[] {
  const { penalty = 0, minLength = 1, noise } = options;
  const code = "option-range";
  const faults: Fault[] = [];
  if (penalty !== "mbic" && !(typeof penalty === "number" && penalty >= 0 && penalty < Infinity)) {
    const expected = 'a finite number of at least 0, or "mbic"';
    faults.push({ code, path: "options.penalty", expected, received: quoted(penalty) });
  }
  if (!(Number.isInteger(minLength) && minLength >= 1)) {
    const expected = "a whole number of at least 1";
    faults.push({ code, path: "options.minLength", expected, received: quoted(minLength) });
  }
  return noise === undefined ? faults : [...faults, ...noiseFaults(noise, columns.length)];
}

function noiseFaults(noise: readonly number[], columns: number): Fault[] {
  const code = "option-range";
  const path = "options.noise";
  if (noise.length !== columns) {
    const expected = `one variance for each of the ${columns} columns`;
    return [{ code, path, expected, received: `${noise.length} values` }];
  }
  const bad = noise.findIndex((variance) => !(variance > 0 && variance < Infinity));
  if (bad < 0) return [];
  const expected = "a variance above 0";
  return [{ code, path: `${path}[${bad}]`, expected, received: quoted(noise[bad]) }];
}
