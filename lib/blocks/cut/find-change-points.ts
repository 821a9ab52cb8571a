import { itemAt } from "../../numerics/arrays.js";
import { checkedOptions } from "../../step/define-step.js";
import { differenceNoise } from "../noise/difference-noise.js";
import { changePointFaults } from "./check-columns.js";
import { type ChangePointOptions, changePointOptions } from "./options.js";
import { bestSegmentation } from "./penalised-segmentation.js";
import { lengthWeightOf, type SegmentCosts, samplesBetween } from "./segment-cost.js";
import { mbicPrice, segmentCosts } from "./segment-costs.js";

export interface ChangePoints {
  /** Index of the first sample of each later segment, rising; empty where there is one segment. */
  readonly breaks: readonly number[];
  /** The least penalised cost. */
  readonly objective: number;
}

const definition = {
  name: "findChangePoints",
  options: changePointOptions,
  faults: changePointFaults,
};

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
 * Σ columns Σ segments nᵢ ln v + squares / v, in units of the noise variance, where v = squares /
 * nᵢ is the segment's own variance, never below 0.01; and "mbic" counts two fitted values for each
 * mean and spread, ln nᵢ twice. Segments then need at least a few samples: set `minLength`.
 *
 * @param columns d columns of n samples each, in the same order along the line.
 * @param options see `changePointOptions`; what is left out is `changePointDefaults`.
 *
 * Missing values (NaN) add no cost and count for no mean, but keep their place in the order and
 * in `minLength`. Among equal optima the earliest breaks are taken, so a break that could stand
 * anywhere in a gap stands at its start. A row shorter than `minLength` is one segment.
 *
 * Limits: the noise is taken to be independent from sample to sample and column to column; where
 * it is not, give a variance that is inflated accordingly, as `segmentBlocks` does, or false
 * breaks appear. Time grows about with n, with breaks and without; with "mean and spread" it grows
 * with n² where there are no breaks, and where breaks are worth hardly more than their price.
 *
 * Throws a StepError with every fault of the input.
 *
 * Source: Jackson et al. 2005, IEEE Signal Processing Letters 12, 105–108 (optimal partitioning);
 * Killick, Fearnhead & Eckley 2012, Journal of the American Statistical Association 107,
 * 1590–1598 (pruning by later starts; the pruning by earlier ones is described at `FutureBounds`);
 * Zhang & Siegmund 2007, Biometrics 63, 22–32 (mBIC, one column).
 *
 * @example findChangePoints([[0, 1, 0, 1, 9, 8, 9, 8]], { penalty: 4, noise: [1] });
 * // { breaks: [4], objective: 6 }
 */
export function findChangePoints(
  columns: readonly ArrayLike<number>[],
  options: Partial<ChangePointOptions> = {},
): ChangePoints {
  const { penalty, minLength, change, noise } = checkedOptions(definition, columns, options);
  const lengthWeight = penalty === "mbic" ? lengthWeightOf(change) : 0;
  const variance = noise ?? columns.map(differenceNoise);
  const costs = segmentCosts(columns, { noise: variance, lengthWeight, change });
  return cheapestCut(costs, penalty, minLength);
}

/** The core: valid input; with "mbic", `costs.lengthWeight` says what a fitted mean counts for. */
export function cheapestCut(
  costs: SegmentCosts,
  penalty: number | "mbic",
  minLength: number,
): ChangePoints {
  const mbic = penalty === "mbic";
  const price = mbic ? mbicPrice(costs) : penalty;
  const { breaks, total } = bestSegmentation(costs, price, minLength);
  return { breaks, objective: mbic ? total - oneSegmentLengthTerm(costs) : total };
}

function oneSegmentLengthTerm(costs: SegmentCosts): number {
  const { samples, columns: d, log, lengthWeight } = costs;
  let term = 0;
  for (let c = 0; c < d; c++) {
    term += lengthWeight * itemAt(log, samplesBetween(costs, [0, samples], c));
  }
  return term;
}
