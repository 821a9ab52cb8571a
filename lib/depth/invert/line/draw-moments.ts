import { quadraticForm } from "../../../numerics/quadratic-form.js";
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
        Math.sqrt(quadraticForm(squares, weights) / quadraticForm(this.straightSquares, weights)),
    };
  }
}

/** Adds Σ v vᵀ over stations, v the m values of each. */
function addSquares(to: Float64Array, values: Float64Array, m: number): void {
  for (let from = 0; from < values.length; from += m) {
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < m; j++) to[i * m + j]! += values[from + i]! * values[from + j]!;
    }
  }
}
