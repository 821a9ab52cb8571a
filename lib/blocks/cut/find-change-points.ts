import { type Fault, quoted, StepError } from "../../step/step-error.js";
import { differenceNoise } from "../noise/difference-noise.js";
import { bestSegmentation } from "./penalised-segmentation.js";
import {
  type ChangeKind,
  presentSamples,
  type SegmentCosts,
  samplesBetween,
  segmentCosts,
} from "./segment-cost.js";

export interface ChangePointOptions {
  /**
   * The price of a break, in units of squared noise: a number ≥ 0, the same for every break, or
   * "mbic", the modified Bayes information criterion (below). Default "mbic".
   */
  readonly penalty?: number | "mbic";
  /** Fewest samples of a segment, missing ones included; a whole number ≥ 1. Default 1. */
  readonly minLength?: number;
  /**
   * What may change at a break. "mean": the mean of each column, the noise being known. "mean and
   * spread": the standard deviation about it as well (below). Default "mean".
   */
  readonly change?: ChangeKind;
  /**
   * Noise **variance** of each column, in the column's unit squared, > 0. Default: the square of the
   * robust scale (1.4826 × median absolute deviation) of first differences, over 2.
   */
  readonly noise?: readonly number[];
}

export const changePointDefaults = Object.freeze({
  penalty: "mbic",
  minLength: 1,
  change: "mean",
} as const);

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
 * With change "mean and spread" the cost is −2 log likelihood instead, less its constant:
 * Σ columns Σ segments nᵢ ln v + squares / v, in units of the noise variance, where v = squares / nᵢ is the
 * segment's own variance, never below 0.01; and "mbic" counts two fitted values for each mean and
 * spread, ln nᵢ twice. Segments then need at least a few samples: hand in a `minLength`.
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
 * breaks appear. Time grows about with n, with breaks and without; with "mean and spread" it grows
 * with n² where there are no breaks, and so it does where breaks are worth hardly more than their
 * price.
 *
 * Throws a StepError with every fault of the input.
 *
 * Source: Jackson et al. 2005, IEEE Signal Processing Letters 12, 105–108 (optimal partitioning);
 * Killick, Fearnhead & Eckley 2012, Journal of the American Statistical Association 107,
 * 1590–1598 (pruning by later starts; the pruning by earlier ones is described at `FutureBounds`); Zhang & Siegmund 2007, Biometrics 63, 22–32 (mBIC, one column).
 *
 * @example findChangePoints([[0, 1, 0, 1, 9, 8, 9, 8]], { penalty: 4, noise: [1] });
 * // { breaks: [4], objective: 6 }
 */
export function findChangePoints(
  columns: readonly ArrayLike<number>[],
  options: ChangePointOptions = {},
): ChangePoints {
  const faults = changePointFaults(columns, options);
  if (faults.length > 0) throw new StepError("findChangePoints", faults);
  const penalty = options.penalty ?? changePointDefaults.penalty;
  const noise = options.noise ?? columns.map(differenceNoise);
  const change = options.change ?? changePointDefaults.change;
  const lengthWeight = penalty === "mbic" ? lengthWeightOf(change) : 0;
  const costs = segmentCosts(columns, { noise, lengthWeight, change });
  return cheapestCut(costs, penalty, options.minLength ?? changePointDefaults.minLength);
}

/** How many values are fitted to a column's segment. */
export const lengthWeightOf = (change: ChangeKind) => (change === "mean" ? 1 : 2);

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
  const { samples, columns: d, log, lengthWeight } = costs;
  let term = 0;
  for (let c = 0; c < d; c++) term += lengthWeight * log[samplesBetween(costs, [0, samples], c)]!;
  return term;
}

/** Every fault of columns and options. */
export function changePointFaults(
  columns: readonly ArrayLike<number>[],
  options: ChangePointOptions,
): readonly Fault[] {
  return [...columnFaults(columns), ...optionFaults(columns, options)];
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
  let first = -1;
  let count = 0;
  for (let i = 0; i < column.length; i++) {
    if (usable(column[i])) continue;
    if (first < 0) first = i;
    count++;
  }
  if (count === 0) return [];
  const received = `${quoted(column[first])} (${count} such values)`;
  const path = `columns[${c}][${first}]`;
  return [{ code: "value", path, expected: "a finite number, or NaN where missing", received }];
}

const usable = (value: unknown) =>
  typeof value === "number" && value !== Number.POSITIVE_INFINITY && value !== -Infinity;

function optionFaults(
  columns: readonly ArrayLike<number>[],
  options: ChangePointOptions,
): readonly Fault[] {
  const { penalty = 0, minLength = 1, change = "mean", noise } = options;
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
  if (change !== "mean" && change !== "mean and spread") {
    const expected = '"mean" or "mean and spread"';
    faults.push({ code, path: "options.change", expected, received: quoted(change) });
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
