import type { BlocksPathStep } from "./blocks.js";
import { boundariesOf, type Stations } from "./boundaries.js";
import type { BlockCut, CutOptions } from "./cut/cut-into-blocks.js";
import { penaltyPath } from "./cut/penalty-path.js";
import type { TexturedCut } from "./texture/textured-cut.js";

/** The lowest price of the path, as a share of the price used. */
const LOWEST = 0.25;

interface BlocksPathOptions extends Pick<CutOptions, "minLength" | "penalty"> {
  readonly stations: Stations;
}

/**
 * The best cuts from a quarter of the price used upward, with the noise fixed as estimated for the
 * cut. The price is that of a boundary's place; with "mbic" the length terms stay. No path at a
 * price of 0.
 */
export function blocksPath(
  cut: BlockCut,
  { minLength, penalty, stations }: BlocksPathOptions,
): readonly BlocksPathStep[] {
  if (cut.textured !== undefined) return pathOfSteps(cut.textured, stations);
  const mbic = penalty === "mbic";
  const price = mbic ? cut.placePrice : penalty;
  if (!(price > 0)) return [];
  const costs = mbic ? cut.costs : { ...cut.costs, lengthWeight: 0 };
  const options = { minLength, from: LOWEST * price, to: Number.POSITIVE_INFINITY };
  return penaltyPath(costs, options).map((step) => ({
    price: [step.price[0] / price, step.price[1] / price],
    boundaries_m: chainagesOf(step.breaks, stations),
  }));
}

/** Steps go one by one as the price rises, each at its worth; those that are not sure stay out. */
function pathOfSteps({ steps, price }: TexturedCut, stations: Stations): readonly BlocksPathStep[] {
  const worths = [...new Set(steps.map(({ worth }) => Math.max(1, worth / price)))].sort(
    (a, b) => a - b,
  );
  return [LOWEST, ...worths].map((from, k) => ({
    price: [from, worths[k] ?? Number.POSITIVE_INFINITY],
    boundaries_m: chainagesOf(
      steps.filter((step) => k === 0 || Math.max(1, step.worth / price) > from).map(({ at }) => at),
      stations,
    ),
  }));
}

function chainagesOf(breaks: readonly number[], stations: Stations): readonly number[] {
  const ranges = breaks.map((at) => ({ at, from: at, to: at, probability: 1 }));
  return boundariesOf(ranges, stations).map(({ at_m }) => at_m);
}
