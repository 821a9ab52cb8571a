import type { BoundaryRange, CutPosterior } from "../cut/cut-posterior.js";
import type { GroundStep } from "./ground-cut.js";
import type { TexturedCut } from "./textured-cut.js";

/** The shortest stretch of places with this probability is a boundary's range. */
const RANGE = 0.9;

/**
 * Where breaks lie and how many there are, from the places of each step while the others stay, and
 * its probability; the steps are taken for independent.
 */
export function texturedPosterior({ steps, doubtful, fits }: TexturedCut): CutPosterior {
  const breakProbability = new Float64Array(fits.line.excess.length + 1);
  for (const { first, places, probability } of [...steps, ...doubtful]) {
    for (const [k, place] of places.entries()) breakProbability[first + k]! += probability * place;
  }
  return {
    ranges: steps.map(rangeOf),
    breakProbability,
    numberProbability: numbersOf([...steps, ...doubtful]),
  };
}

function rangeOf({ at, first, places, probability }: GroundStep): BoundaryRange {
  let best: readonly [number, number] = [0, places.length - 1];
  let [to, sum] = [-1, 0];
  for (let from = 0; from < places.length; from++) {
    while (sum < RANGE * (1 - 1e-9) && to + 1 < places.length) sum += places[++to]!;
    if (!(sum >= RANGE * (1 - 1e-9))) break;
    if (to - from < best[1] - best[0]) best = [from, to];
    sum -= places[from]!;
  }
  const [from, end] = [Math.min(first + best[0], at), Math.max(first + best[1], at)];
  return { at, from, to: end, probability };
}

/** Probability of 0, 1, 2, … of independent steps. */
function numbersOf(steps: readonly GroundStep[]): readonly number[] {
  let numbers: readonly number[] = [1];
  for (const { probability: p } of steps) {
    numbers = [...numbers, 0].map((one, k) => (1 - p) * one + p * (numbers[k - 1] ?? 0));
  }
  return numbers;
}
