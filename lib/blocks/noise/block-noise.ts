import { firstOf, neighbours, zipped } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";
import { madScale } from "../../numerics/statistics/robust.js";
import { differenceNoise } from "./difference-noise.js";
import {
  adjacentDifferences,
  effectiveSampleFactor,
  longRunVariance,
  robustCorrelation,
  robustCorrelations,
} from "./long-run-noise.js";

/** The noise of a segmentation: the scatter within blocks. */
export interface BlockNoise {
  /** For each column, the long-run variance of one sample: correlated neighbours are counted in. */
  readonly variance: readonly number[];
  /** For each column, the variance of one sample about its block, whatever its neighbours. */
  readonly scatter: readonly number[];
  /** Effective number of independent columns, 1 … their number. */
  readonly effectiveColumns: number;
}

/**
 * The noise before any block is known, from adjacent means over half the shortest block: steps
 * between blocks touch few of them.
 */
export function noiseBeforeBlocks(columns: readonly Float64Array[], minLength: number): BlockNoise {
  const window = fittingWindow(columns, minLength / 2);
  const differences = columns.map((column) => adjacentDifferences(column, window));
  return {
    variance: differences.map((column) => longRunVariance(column, window)),
    scatter: columns.map(differenceNoise),
    effectiveColumns: effectiveColumns(differences),
  };
}

/**
 * The noise about known blocks: the greatest of four views of the residuals, so that neither a
 * short nor a long reach of the correlation is missed: their variance × the samples that count as
 * one independent sample, and the long-run variance over 0.5, 1 and 2 shortest blocks.
 */
export function noiseAboutBlocks(
  columns: readonly Float64Array[],
  breaks: readonly number[],
  minLength: number,
): BlockNoise {
  const residuals = columns.map((column) => aboutBlocks(column, breaks));
  const windows = [0.5, 1, 2].map((part) => fittingWindow(columns, part * minLength));
  const variance = residuals.map((column) => {
    const neighbours = madScale(column) ** 2 * effectiveSampleFactor(column, minLength);
    const longRun = windows.map((w) => longRunVariance(adjacentDifferences(column, w), w));
    return Math.max(...[neighbours, ...longRun].filter((value) => value >= 0));
  });
  const wide = residuals.map((column) => adjacentDifferences(column, firstOf(windows)));
  const scatter = residuals.map((column) => madScale(column) ** 2);
  return { variance, scatter, effectiveColumns: effectiveColumns(wide) };
}

/**
 * By how much the noise variance exceeds that of means over `width` samples only, averaged over the
 * columns: variance / (scatter × (1 + 2 Σ (1 − k / width) rₖ)), at least 1.
 */
export function noiseExcess(
  columns: readonly Float64Array[],
  breaks: readonly number[],
  noise: BlockNoise,
): (width: number) => number {
  const residuals = columns.map((column) => aboutBlocks(column, breaks));
  const correlation = residuals.map((column) => robustCorrelations(column, LONGEST_LAG));
  const columnNoise = zipped(noise.variance, noise.scatter);
  return (width) => {
    const excess = zipped(columnNoise, correlation).map(([[variance, scatter], r]) => {
      const near = r.slice(0, Math.max(0, width - 1));
      const factor = near.reduce((sum, rk, k) => sum + 2 * (1 - (k + 1) / width) * rk, 1);
      return Math.max(1, variance / (scatter * factor));
    });
    return presentMean(excess);
  };
}

const LONGEST_LAG = 40;

/** The noise under independent samples in every column, for comparison only. */
export function independentNoise(
  columns: readonly Float64Array[],
  breaks: readonly number[] | null,
): BlockNoise {
  const variance = columns.map((column) =>
    breaks === null ? differenceNoise(column) : madScale(aboutBlocks(column, breaks)) ** 2,
  );
  return { variance, scatter: variance, effectiveColumns: columns.length };
}

/** Residuals from the means between breaks; NaN where the sample is missing. */
function aboutBlocks(column: Float64Array, breaks: readonly number[]): Float64Array {
  const residuals = column.slice();
  for (const [from, to] of neighbours([0, ...breaks, column.length])) {
    const part = residuals.subarray(from, to);
    const mean = presentMean(part);
    part.set(part.map((value) => value - mean));
  }
  return residuals;
}

/** A window of about `wanted` samples, at most an eighth of the row, so that there is a median. */
function fittingWindow(columns: readonly Float64Array[], wanted: number): number {
  return Math.max(1, Math.min(Math.round(wanted), Math.floor(firstOf(columns).length / 8)));
}

/**
 * d² / Σ r² over the d × d correlations: d for unrelated columns, 1 for copies of one. A sum of d
 * correlated squares × this / d has the variance of a sum of that many independent ones.
 *
 * Source: Satterthwaite 1946, Biometrics Bulletin 2, 110–114.
 */
function effectiveColumns(columns: readonly Float64Array[]): number {
  const d = columns.length;
  let squares = d;
  for (const [a, one] of columns.entries()) {
    for (const other of columns.slice(0, a)) squares += 2 * robustCorrelation(one, other) ** 2;
  }
  return (d * d) / squares;
}
