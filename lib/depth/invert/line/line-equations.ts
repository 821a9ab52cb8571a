import { blockBackSolve, blockForwardSolve } from "../../../numerics/algebra/block-solve.js";
import {
  type BlockFactor,
  type BlockTridiagonal,
  blockTridiagonal,
  factorBlockTridiagonal,
} from "../../../numerics/algebra/block-tridiagonal.js";
import { choleskyFactor, choleskySolve } from "../../../numerics/algebra/cholesky.js";
import {
  correlations,
  precisionAt,
  precisionBetween,
  timesPrecision,
} from "../../prior/line-prior.js";
import {
  deviationOf,
  forEachDatum,
  gainOf,
  huberWeight,
  type LineState,
  tieResidual,
} from "./line-state.js";

/**
 * The normal equations of a line, factored: stations in a block-tridiagonal matrix A = L Lᵀ, the
 * channels' errors in a border, coupled by C. `halfway` is Y = L⁻¹ C, (n q) × b; `border` is the
 * lower factor of K − YᵀY.
 */
export interface LineEquations {
  readonly factor: BlockFactor;
  readonly halfway: Float64Array;
  readonly border: Float64Array;
  readonly b: number;
  readonly right: Float64Array;
  readonly borderRight: Float64Array;
}

/** A line at its maximum-a-posteriori (MAP) estimate. */
export interface MapEstimate extends LineState {
  readonly equations: LineEquations;
}

/** `priorScale` multiplies the layers' prior precision; other than 1 only in `whitenedNoise`. */
export function lineEquations(state: LineState, priorScale = 1): LineEquations {
  const { data, hyper } = state;
  const { n, b, q } = data;
  const correlation = correlations(hyper.prior, data);
  const matrix = priorMatrix(correlation, n, { layers: data.m, scale: priorScale });
  const coupling = new Float64Array(n * q * b);
  const border = new Float64Array(b * b);
  const right = timesPrecision(state.u, correlation).map((value) => -value);
  const borderRight = state.channel.map((value) => -value);
  for (let k = 0; k < b; k++) border[k * b + k] = 1;
  const sums = { diagonal: matrix.diagonal, coupling, border, right, borderRight };
  addReadings(state, sums);
  addTies(state, sums);
  const factor = factorBlockTridiagonal(matrix);
  blockForwardSolve(factor, coupling, b);
  subtractGram(border, coupling, b);
  return { factor, halfway: coupling, border: choleskyFactor(border, b), b, right, borderRight };
}

/** The prior's precision of n stations; that of the first `layers` unknowns is scaled. */
export function priorMatrix(
  correlation: Float64Array,
  n: number,
  { layers, scale }: { readonly layers: number; readonly scale: number },
): BlockTridiagonal {
  const q = correlation.length;
  const matrix = blockTridiagonal(n, q);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < q; j++) {
      const factor = j < layers ? scale : 1;
      matrix.diagonal[(i * q + j) * q + j] = factor * precisionAt(correlation[j]!, i, n);
      if (i + 1 < n) matrix.below[(i * q + j) * q + j] = factor * precisionBetween(correlation[j]!);
    }
  }
  return matrix;
}

interface Sums {
  readonly diagonal: Float64Array;
  readonly coupling: Float64Array;
  readonly border: Float64Array;
  readonly right: Float64Array;
  readonly borderRight: Float64Array;
}

function addReadings(state: LineState, sums: Sums): void {
  const { b, c, m, q, gainSd, shiftSd_ppm, walk, walkSd } = state.data;
  const lower = state.hyper.prior.layers.factor;
  const row = new Float64Array(m);
  forEachDatum(state, (i, d, residual) => {
    const weight = huberWeight(residual);
    const root = Math.sqrt(weight) / deviationOf(state, i, d);
    const gain = gainOf(state, i, d) * root;
    whitenRow(row, state.jacobian_ppm, { at: (i * c + d) * m, lower, scale: gain });
    const weighted = Math.sqrt(weight) * residual;
    const response = state.response_ppm[i * c + d]! * root;
    const walkError = { index: m + walk[d]!, value: response * walkSd };
    addRow(sums, row, { from: i * q, q, weighted, walkError });
    const byGain = response * gainSd[d]!;
    const byShift = shiftSd_ppm[d]! * root;
    for (let j = 0; j < (walkError.value === 0 ? m : m + 1); j++) {
      const value = j < m ? row[j]! : walkError.value;
      const to = (i * q + (j < m ? j : walkError.index)) * b;
      sums.coupling[to + d]! += value * byGain;
      if (b > c) sums.coupling[to + c + d]! += value * byShift;
    }
    sums.border[d * b + d]! += byGain * byGain;
    sums.borderRight[d]! += byGain * weighted;
    if (b === c) return;
    sums.border[(c + d) * b + d]! += byGain * byShift;
    sums.border[(c + d) * b + c + d]! += byShift * byShift;
    sums.borderRight[c + d]! += byShift * weighted;
  });
}

function addTies({ data, hyper, model }: LineState, sums: Sums): void {
  const { ties, m, q } = data;
  const { factor: lower } = hyper.prior.layers;
  const row = new Float64Array(m);
  for (const tie of ties) {
    whitenRow(row, tie.weights, { at: 0, lower, scale: 1 / tie.sd });
    const weighted = tieResidual(tie, model, m);
    addRow(sums, row, { from: tie.station * q, q, weighted, walkError: NO_WALK_ERROR });
  }
}

interface Whitening {
  readonly at: number;
  /** m × m lower factor of the layers' prior covariance. */
  readonly lower: Float64Array;
  readonly scale: number;
}

/** scale × (a row of derivatives to ln conductivity) × L: derivatives to the whitened unknowns. */
export function whitenRow(
  out: Float64Array,
  from: Float64Array,
  { at, lower, scale }: Whitening,
): void {
  const m = out.length;
  out.fill(0);
  for (let i = 0; i < m; i++) {
    const value = scale * from[at + i]!;
    if (value === 0) continue;
    for (let j = 0; j <= i; j++) out[j]! += value * lower[i * m + j]!;
  }
}

/** A datum's row: its first unknown, its residual over its deviation, its walk error's entry. */
interface RowPlace {
  readonly from: number;
  readonly q: number;
  readonly weighted: number;
  readonly walkError: { readonly index: number; readonly value: number };
}

/** For a row without a walk error. */
export const NO_WALK_ERROR = { index: 0, value: 0 };

/** Adds rowᵀ row to the lower triangle and row × weighted residual to the right-hand side. */
export function addRow(
  { diagonal, right }: Pick<Sums, "diagonal" | "right">,
  row: Float64Array,
  { from, q, weighted, walkError }: RowPlace,
): void {
  const m = row.length;
  for (let i = 0; i < m; i++) {
    const to = (from + i) * q;
    for (let j = 0; j <= i; j++) diagonal[to + j]! += row[i]! * row[j]!;
    right[from + i]! += row[i]! * weighted;
  }
  if (walkError.value === 0) return;
  const to = (from + walkError.index) * q;
  for (let j = 0; j < m; j++) diagonal[to + j]! += walkError.value * row[j]!;
  diagonal[to + walkError.index]! += walkError.value * walkError.value;
  right[from + walkError.index]! += walkError.value * weighted;
}

/** Lower triangle of K − YᵀY. */
function subtractGram(border: Float64Array, y: Float64Array, b: number): void {
  for (let at = 0; at < y.length; at += b) {
    for (let i = 0; i < b; i++) {
      const value = y[at + i]!;
      if (value === 0) continue;
      for (let j = 0; j <= i; j++) border[i * b + j]! -= value * y[at + j]!;
    }
  }
}

/** The solution of the whole system for any right-hand side. */
export function solveLine(
  { factor, halfway, border, b }: LineEquations,
  right: Float64Array,
  borderRight: Float64Array,
): { readonly u: Float64Array; readonly channel: Float64Array } {
  const u = right.slice();
  blockForwardSolve(factor, u);
  const rest = borderRight.slice();
  for (let r = 0; r < u.length; r++) {
    for (let i = 0; i < b; i++) rest[i]! -= halfway[r * b + i]! * u[r]!;
  }
  const channel = choleskySolve(border, b, rest);
  for (let r = 0; r < u.length; r++) {
    for (let i = 0; i < b; i++) u[r]! -= halfway[r * b + i]! * channel[i]!;
  }
  blockBackSolve(factor, u);
  return { u, channel };
}
