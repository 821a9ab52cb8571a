import type { DrawnLine } from "./line-draws.js";

/** Mean and spread of a line's ln conductivities over draws. */
export interface DrawnMoments {
  /** n × m. */
  readonly mean: Float64Array;
  /**
   * How much wider than by the normal equations the posterior of Σ weight × ln conductivity is; one
   * for the whole line, as a few draws tell it well of many stations and not of one.
   */
  readonly widening: (weights: Float64Array) => number;
}

/** Gathers draws; each comes with what it would be if the problem were linear. */
export class DrawGatherer {
  private count = 0;
  private readonly sum: Float64Array;
  private readonly squares: Float64Array;
  private readonly straightSquares: Float64Array;

  /** @param likely n × m most likely ln conductivities */
  constructor(
    private readonly likely: Float64Array,
    private readonly m: number,
  ) {
    this.sum = new Float64Array(likely.length);
    this.squares = new Float64Array(m * m);
    this.straightSquares = new Float64Array(m * m);
  }

  take({ lnConductivity, straight }: DrawnLine): void {
    const moved = lnConductivity.map((value, at) => value - this.likely[at]!);
    for (let at = 0; at < moved.length; at++) this.sum[at] = this.sum[at]! + moved[at]!;
    addSquares(this.squares, moved, this.m);
    addSquares(this.straightSquares, straight, this.m);
    this.count += 1;
  }

  moments(): DrawnMoments {
    const { count, m } = this;
    const mean = this.sum.map((sum) => sum / count);
    const about = new Float64Array(m * m);
    addSquares(about, mean, m);
    const squares = this.squares.map((sum, at) => sum - count * about[at]!);
    return {
      mean: mean.map((value, at) => this.likely[at]! + value),
      widening: (weights) =>
        Math.sqrt(quadratic(squares, weights) / quadratic(this.straightSquares, weights)),
    };
  }
}

/** Adds Σ v vᵀ over stations, v the m values of each; the lower triangle. */
function addSquares(to: Float64Array, values: Float64Array, m: number): void {
  for (let from = 0; from < values.length; from += m) {
    for (let i = 0; i < m; i++) {
      for (let j = 0; j <= i; j++) to[i * m + j]! += values[from + i]! * values[from + j]!;
    }
  }
}

/** wᵀ M w of a symmetric M by its lower triangle. */
function quadratic(matrix: Float64Array, w: Float64Array): number {
  const m = w.length;
  let sum = 0;
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < i; j++) sum += 2 * w[i]! * w[j]! * matrix[i * m + j]!;
    sum += w[i]! * w[i]! * matrix[i * m + i]!;
  }
  return sum;
}
