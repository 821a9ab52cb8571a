/** How a pattern search goes about it. */
export interface PatternSearchOptions {
  /** First step in every coordinate, over 0. */
  readonly step: number;
  /** The search ends when its step has shrunk below this, over 0. */
  readonly enough: number;
  /** Most evaluations of the function. */
  readonly evaluations: number;
}

export interface LeastPoint {
  readonly at: Float64Array;
  readonly value: number;
  readonly evaluations: number;
}

/**
 * A local minimum of a function of a few variables without derivatives: each coordinate is tried a
 * step either way, a pass that helped is followed by a leap the same way again, and a pass that did
 * not halves the step. Where the function gives NaN or Infinity it is never gone to.
 * Source: Hooke & Jeeves 1961, Direct Search Solution of Numerical and Statistical Problems.
 */
export function patternSearch(
  f: (at: Float64Array) => number,
  start: ArrayLike<number>,
  options: PatternSearchOptions,
): LeastPoint {
  let evaluations = 0;
  const tried = (at: Float64Array): number => {
    evaluations += 1;
    const value = f(at);
    return Number.isNaN(value) ? Number.POSITIVE_INFINITY : value;
  };
  let best: Point = { at: Float64Array.from(start), value: Number.POSITIVE_INFINITY };
  best = { ...best, value: tried(best.at) };
  for (let step = options.step; step >= options.enough; ) {
    if (evaluations >= options.evaluations) break;
    const found = explore(tried, best, step);
    if (!(found.value < best.value)) {
      step /= 2;
      continue;
    }
    const leap = found.at.map((value, k) => 2 * value - best.at[k]!);
    const leapt = { at: leap, value: tried(leap) };
    best = leapt.value < found.value ? leapt : found;
  }
  return { ...best, evaluations };
}

interface Point {
  readonly at: Float64Array;
  readonly value: number;
}

function explore(f: (at: Float64Array) => number, from: Point, step: number): Point {
  let best = from;
  for (let k = 0; k < from.at.length; k++) {
    for (const way of [step, -step]) {
      const at = best.at.slice();
      at[k]! += way;
      const value = f(at);
      if (!(value < best.value)) continue;
      best = { at, value };
      break;
    }
  }
  return best;
}
