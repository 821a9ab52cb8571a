import {
  type BandMatrix,
  bandMatrix,
  factorBanded,
  solveLower,
  solveUpper,
} from "../../numerics/algebra/banded.js";
import { choleskyFactor, choleskySolve, forwardSolve } from "../../numerics/algebra/cholesky.js";
import { normalMatrix } from "../../numerics/algebra/normal-matrix.js";
import type { Random } from "../../numerics/random.js";
import type { CellGraph } from "./cell-graph.js";

/** A Gaussian by its precision L Lᵀ + Vᵀ V, the first banded, the second of low rank. */
export interface GaussianPosterior {
  readonly band: BandMatrix;
  /** r × m. */
  readonly directions: Float64Array;
  /** L⁻¹ Vᵀ, m × r. */
  readonly whitened: Float64Array;
  /** Cholesky's factor of 1 + (L⁻¹ Vᵀ)ᵀ L⁻¹ Vᵀ. */
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

/** `precision` is overwritten by its factor. `directions` is V. */
export function gaussianPosterior(
  precision: BandMatrix,
  directions: Float64Array,
): GaussianPosterior {
  factorBanded(precision);
  const m = precision.size;
  const r = directions.length / m;
  const whitened = new Float64Array(m * r);
  for (let k = 0; k < r; k++) {
    for (let i = 0; i < m; i++) whitened[i * r + k] = directions[k * m + i]!;
  }
  solveLower(precision, whitened, new Int32Array(r));
  const products = normalMatrix(whitened, r);
  for (let k = 0; k < r; k++) products[k * r + k] = products[k * r + k]! + 1;
  const capacitance = choleskyFactor(products, r);
  return { band: precision, directions, whitened, capacitance };
}

/** x of precision × x = right, as a new vector. */
export function solvePosterior(posterior: GaussianPosterior, right: Float64Array): Float64Array {
  const { band, whitened, capacitance } = posterior;
  const m = band.size;
  const r = whitened.length / m;
  const y = right.slice();
  solveLower(band, y, new Int32Array(1));
  const along = new Float64Array(r);
  for (let i = 0; i < m; i++) {
    for (let k = 0; k < r; k++) along[k] = along[k]! + whitened[i * r + k]! * y[i]!;
  }
  const share = choleskySolve(capacitance, r, along);
  for (let i = 0; i < m; i++) {
    let sum = 0;
    for (let k = 0; k < r; k++) sum += whitened[i * r + k]! * share[k]!;
    y[i] = y[i]! - sum;
  }
  solveUpper(band, y, 1);
  return y;
}

/** A vector whose covariance is the precision: Lε + Vᵀη. */
export function precisionNoise(posterior: GaussianPosterior, random: Random): Float64Array {
  const { band, directions } = posterior;
  const { size: m, halfBandwidth: b, lower } = band;
  const epsilon = Float64Array.from({ length: m }, () => random.normal());
  const out = new Float64Array(m);
  for (let i = 0; i < m; i++) {
    const row = i * (b + 1) + b - i;
    let sum = 0;
    for (let j = Math.max(0, i - b); j <= i; j++) sum += lower[row + j]! * epsilon[j]!;
    out[i] = sum;
  }
  for (let k = 0; k * m < directions.length; k++) {
    const eta = random.normal();
    for (let i = 0; i < m; i++) out[i] = out[i]! + eta * directions[k * m + i]!;
  }
  return out;
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
