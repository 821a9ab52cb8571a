import {
  type BandMatrix,
  bandMatrix,
  factorBanded,
  multiplyLower,
  solveLower,
  solveUpper,
} from "../../numerics/algebra/banded.js";
import { choleskyFactor, choleskySolve, forwardSolve } from "../../numerics/algebra/cholesky.js";
import { normalMatrix } from "../../numerics/algebra/normal-matrix.js";
import type { Random } from "../../numerics/random.js";
import type { CellGraph } from "./cell-graph.js";
import { alongDirections, combinedDirections } from "./linearised.js";

/** What readings say: V, m × r, and the variance of their noise over the stated one, ν. */
export interface Information {
  readonly directions: Float64Array;
  readonly noise: number;
}

/** A Gaussian by its precision L Lᵀ + V Vᵀ/ν, the first banded, the second of low rank. */
export interface GaussianPosterior extends Information {
  readonly band: BandMatrix;
  /** L⁻¹ V, m × r. */
  readonly whitened: Float64Array;
  /** Cholesky's factor of 1 + (L⁻¹ V)ᵀ L⁻¹ V/ν. */
  readonly capacitance: Float64Array;
}

/** The precision of ln ρ: `weight` on the squared difference at each face, `anchor` on each cell. */
export function priorPrecision(
  graph: CellGraph,
  weight: Float64Array,
  anchor: Float64Array,
): BandMatrix {
  const b = graph.down;
  const matrix = bandMatrix(graph.across * graph.down, b);
  const { lower } = matrix;
  const add = (i: number, j: number, value: number) => {
    const at = i * (b + 1) + b - i + j;
    lower[at] = lower[at]! + value;
  };
  for (const [i, value] of anchor.entries()) add(i, i, value);
  for (const [face, value] of weight.entries()) {
    const [p, q] = [graph.first[face]!, graph.second[face]!];
    add(p, p, value);
    add(q, q, value);
    add(q, p, -value);
  }
  return matrix;
}

/** `precision` is overwritten by its factor. */
export function gaussianPosterior(
  precision: BandMatrix,
  { directions, noise }: Information,
): GaussianPosterior {
  factorBanded(precision);
  const r = directions.length / precision.size;
  const whitened = directions.slice();
  solveLower(precision, whitened, new Int32Array(r));
  const products = normalMatrix(whitened, r);
  for (let k = 0; k < r; k++) {
    for (let l = 0; l <= k; l++) products[k * r + l] = products[k * r + l]! / noise;
    products[k * r + k] = products[k * r + k]! + 1;
  }
  const capacitance = choleskyFactor(products, r);
  return { band: precision, directions, noise, whitened, capacitance };
}

/** x of precision × x = right, as a new vector. */
export function solvePosterior(posterior: GaussianPosterior, right: Float64Array): Float64Array {
  const { band, whitened, capacitance, noise } = posterior;
  const x = right.slice();
  solveLower(band, x, new Int32Array(1));
  const along = alongDirections(whitened, x);
  const share = choleskySolve(capacitance, along.length, along);
  const known = combinedDirections(whitened, { y: share, m: band.size });
  for (let i = 0; i < x.length; i++) x[i] = x[i]! - known[i]! / noise;
  solveUpper(band, x, 1);
  return x;
}

/** A vector whose covariance is the precision: Lε + Vη/√ν. */
export function precisionNoise(posterior: GaussianPosterior, random: Random): Float64Array {
  const { band, directions, noise } = posterior;
  const m = band.size;
  const normals = (length: number) => Float64Array.from({ length }, () => random.normal());
  const out = normals(m);
  multiplyLower(band, out, 1);
  const known = combinedDirections(directions, { y: normals(directions.length / m), m });
  return out.map((value, i) => value + known[i]! / Math.sqrt(noise));
}

/** How many parameters the readings decide: r − tr C⁻¹, C the capacitance. */
export function effectiveParameters({ band, whitened, capacitance }: GaussianPosterior): number {
  const r = whitened.length / band.size;
  let sum = r;
  for (let k = 0; k < r; k++) {
    const unit = new Float64Array(r);
    unit[k] = 1;
    const half = forwardSolve(capacitance, r, unit);
    sum -= half.reduce((square, value) => square + value * value, 0);
  }
  return sum;
}
