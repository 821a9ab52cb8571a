import { lastOf, neighbours, zipped } from "../../numerics/arrays.js";
import { bestSegmentation } from "./penalised-segmentation.js";
import { type SegmentCosts, segmentCost } from "./segment-cost.js";

/** One optimum and the prices per break over which it is the optimum. */
export interface PathStep {
  /** Lowest and highest price; the highest of the last step is Infinity if it has no break. */
  readonly price: readonly [number, number];
  readonly breaks: readonly number[];
  /** Sum of the segments' costs, without any price. */
  readonly cost: number;
}

interface PathOptions {
  readonly minLength: number;
  readonly from: number;
  /** May be Infinity. */
  readonly to: number;
}

/**
 * Every optimum over a range of prices, by rising price and so with ever fewer breaks.
 *
 * The optimum's total is the lower hull of the lines cost(m) + m × price. Starting from the two
 * ends, the price at which two known lines cross is tried: either the optimum there is new, or
 * nothing lies between the two.
 *
 * Source: Haynes, Eckley & Fearnhead 2017, Journal of Computational and Graphical Statistics 26,
 * 134–143.
 */
export function penaltyPath(costs: SegmentCosts, options: PathOptions): readonly PathStep[] {
  const { minLength, from, to } = options;
  const least = optimumAt(costs, from, minLength);
  const most = to === Number.POSITIVE_INFINITY ? whole(costs) : optimumAt(costs, to, minLength);
  const found = [least, ...between(costs, minLength, [least, most])];
  if (most.breaks.length < lastOf(found).breaks.length) found.push(most);
  const prices = [from, ...neighbours(found).map(([more, fewer]) => crossing(more, fewer)), to];
  return zipped(found, neighbours(prices)).map(([{ breaks, cost }, price]) => ({
    price,
    breaks,
    cost,
  }));
}

interface Optimum {
  readonly breaks: readonly number[];
  readonly cost: number;
}

/** The optima strictly between two, by falling number of breaks. */
function between(
  costs: SegmentCosts,
  minLength: number,
  [more, fewer]: readonly [Optimum, Optimum],
): Optimum[] {
  if (more.breaks.length - fewer.breaks.length < 2) return [];
  const price = crossing(more, fewer);
  const middle = optimumAt(costs, price, minLength);
  const line = more.cost + more.breaks.length * price;
  const below = line - (middle.cost + middle.breaks.length * price);
  const inside =
    middle.breaks.length < more.breaks.length && middle.breaks.length > fewer.breaks.length;
  if (!inside || !(below > 1e-9 * (1 + Math.abs(line)))) return [];
  return [
    ...between(costs, minLength, [more, middle]),
    middle,
    ...between(costs, minLength, [middle, fewer]),
  ];
}

function optimumAt(costs: SegmentCosts, price: number, minLength: number): Optimum {
  const { breaks, total } = bestSegmentation(costs, price, minLength);
  return { breaks, cost: total - price * breaks.length };
}

const whole = (costs: SegmentCosts): Optimum => ({
  breaks: [],
  cost: segmentCost(costs, 0, costs.samples),
});

/** The price at which two optima cost the same. */
function crossing(more: Optimum, fewer: Optimum): number {
  return (fewer.cost - more.cost) / (more.breaks.length - fewer.breaks.length);
}
