import { quadraticForm } from "../../../numerics/algebra/quadratic-form.js";
import type { PosteriorDraw } from "./line-draws.js";

/** Posterior mean and standard deviation of a line's ln conductivities over draws. */
export interface PosteriorMoments {
  /** n × m. */
  readonly mean: Float64Array;
  /**
   * Factor on the standard deviation of Σ weight × ln conductivity by the normal equations; one for
   * the whole line, since a few draws estimate it well over many stations and not at one.
   */
  readonly sdInflation: (weights: Float64Array) => number;
}

/** Sums over draws, each beside its linear approximation. */
export class MomentAccumulator {
  private count = 0;
  private readonly sum: Float64Array;
  private readonly squares: Float64Array;
  private readonly linearSquares: Float64Array;

  constructor(
    /** n × m ln conductivities of the MAP estimate. */
    private readonly map: Float64Array,
    private readonly m: number,
  ) {
    this.sum = new Float64Array(map.length);
    this.squares = new Float64Array(m * m);
    this.linearSquares = new Float64Array(m * m);
  }

  add({ lnConductivity, linear }: PosteriorDraw): void {
    const moved = lnConductivity.map((value, at) => value - this.map[at]!);
    for (let at = 0; at < moved.length; at++) this.sum[at] = this.sum[at]! + moved[at]!;
    addSquares(this.squares, moved, this.m);
    addSquares(this.linearSquares, linear, this.m);
    this.count += 1;
  }

  moments(): PosteriorMoments {
    const { count, m } = this;
    const mean = this.sum.map((sum) => sum / count);
    const about = new Float64Array(m * m);
    addSquares(about, mean, m);
    const squares = this.squares.map((sum, at) => sum - count * about[at]!);
    return {
      mean: mean.map((value, at) => this.map[at]! + value),
      sdInflation: (weights) =>
        Math.sqrt(quadraticForm(squares, weights) / quadraticForm(this.linearSquares, weights)),
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
