import { rangeFault } from "../../depth/check-depth-slices.js";
import { StepError } from "../../step/step-error.js";
import { differenceNoise } from "../noise/difference-noise.js";
import {
  type ChangePointOptions,
  changePointFaults,
  lengthWeightOf,
} from "./find-change-points.js";
import { type PathStep, penaltyPath } from "./penalty-path.js";
import { presentSamples, segmentCosts } from "./segment-cost.js";

export interface ChangePointPathOptions extends Omit<ChangePointOptions, "penalty"> {
  /** Lowest price per break, ≥ 0. Default: a quarter of 2 ln n, n being the samples present. */
  readonly from?: number;
  /** Highest price per break, above `from`; may be Infinity. Default Infinity. */
  readonly to?: number;
  /** Whether the length terms of "mbic" are part of the cost. Default false. */
  readonly lengthTerms?: boolean;
}

/**
 * Every best cut over a range of prices per break, each with the prices over which it is the best:
 * which breaks come first, and which hang by a thread.
 *
 * The cuts are those of `findChangePoints` at each price, exactly; see there for the cost, the
 * columns, missing values and the options `minLength`, `noise` and `change`.
 *
 * @returns the cuts by rising price, with ever fewer breaks; the price ranges follow on each other.
 *
 * Throws a StepError with every fault of the input.
 *
 * Source: Haynes, Eckley & Fearnhead 2017, Journal of Computational and Graphical Statistics 26,
 * 134–143.
 *
 * @example findChangePointPath([[0, 1, 0, 1, 9, 8, 9, 8]], { noise: [1], from: 3 });
 * // [{ price: [3, 128], breaks: [4], cost: 2 }, { price: [128, Infinity], breaks: [], cost: 130 }]
 */
export function findChangePointPath(
  columns: readonly ArrayLike<number>[],
  options: ChangePointPathOptions = {},
): readonly PathStep[] {
  const { from: low, to = Number.POSITIVE_INFINITY, lengthTerms = false, ...rest } = options;
  const faults = [
    ...changePointFaults(columns, rest),
    ...(low === undefined ? [] : rangeFault("from", low, { from: 0 })),
    ...(to === Number.POSITIVE_INFINITY ? [] : rangeFault("to", to, { above: low ?? 0 })),
  ];
  if (faults.length > 0) throw new StepError("findChangePointPath", faults);
  const { minLength = 1, change = "mean", noise = columns.map(differenceNoise) } = rest;
  const lengthWeight = lengthTerms ? lengthWeightOf(change) : 0;
  const costs = segmentCosts(columns, { noise, lengthWeight, change });
  const from = low ?? 0.5 * Math.log(Math.max(1, presentSamples(costs)));
  return penaltyPath(costs, { minLength, from, to });
}
