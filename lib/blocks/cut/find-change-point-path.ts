import { checkedOptions } from "../../step/define-step.js";
import { type Fault, quoted } from "../../step/step-error.js";
import { differenceNoise } from "../noise/difference-noise.js";
import { changePointFaults } from "./check-columns.js";
import { type ChangePointPathOptions, changePointPathOptions } from "./options.js";
import { type PathStep, penaltyPath } from "./penalty-path.js";
import { lengthWeightOf } from "./segment-cost.js";
import { mbicPrice, segmentCosts } from "./segment-costs.js";

const definition = {
  name: "findChangePointPath",
  options: changePointPathOptions,
  faults: (columns: readonly ArrayLike<number>[], used: ChangePointPathOptions) => [
    ...changePointFaults(columns, used),
    ...orderFault(used),
  ],
};

/**
 * Every best cut over a range of prices per break, each with the prices over which it is the best:
 * which breaks come first, and which hang by a thread.
 *
 * The cuts are those of `findChangePoints` at each price, exactly; see there for the cost, the
 * columns, missing values and the options `minLength`, `noise` and `change`.
 *
 * @param columns d columns of n samples each, in the same order along the line.
 * @param options see `changePointPathOptions`.
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
  options: Partial<ChangePointPathOptions> = {},
): readonly PathStep[] {
  const used = checkedOptions(definition, columns, options);
  const { minLength, change, to, lengthTerms } = used;
  const lengthWeight = lengthTerms ? lengthWeightOf(change) : 0;
  const noise = used.noise ?? columns.map(differenceNoise);
  const costs = segmentCosts(columns, { noise, lengthWeight, change });
  const from = used.from ?? 0.25 * mbicPrice(costs);
  return penaltyPath(costs, { minLength, from, to });
}

function orderFault({ from, to }: ChangePointPathOptions): Fault[] {
  if (from === null || to > from) return [];
  const expected = `above options.from (${from})`;
  return [{ code: "option-range", path: "options.to", expected, received: quoted(to) }];
}
