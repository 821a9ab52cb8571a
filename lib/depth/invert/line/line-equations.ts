import { blockBackSolve, blockForwardSolve } from "../../../numerics/block-solve.js";
import {
  type BlockFactor,
  type BlockTridiagonal,
  blockTridiagonal,
  factorBlockTridiagonal,
} from "../../../numerics/block-tridiagonal.js";
import { choleskyFactor, choleskySolve } from "../../../numerics/cholesky.js";
import {
  correlations,
  precisionAt,
  precisionBetween,
  timesPrecision,
} from "../../prior/line-prior.js";
import type { LineData } from "./line-data.js";
import {
  huberWeight,
  type LineBelief,
  type LineState,
  residualAt,
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

/** A line at its most likely model. */
export interface LikelyLine {
  readonly data: LineData;
  readonly belief: LineBelief;
  readonly state: LineState;
  readonly equations: LineEquations;
}

/** `priorScale` multiplies the layers' prior precision: 1 but for the share of noise in the spread. */
export function lineEquations(
  data: LineData,
  belief: LineBelief,
  state: LineState,
  priorScale = 1,
): LineEquations {
  const { n, b, q } = data;
  const alike = correlations(belief.prior, data);
  const matrix = priorMatrix(alike, n, { layers: data.m, scale: priorScale });
  const coupling = new Float64Array(n * q * b);
  const border = new Float64Array(b * b);
  const right = timesPrecision(state.u, alike).map((force) => -force);
  const borderRight = state.channel.map((value) => -value);
  for (let k = 0; k < b; k++) border[k * b + k] = 1;
  const sums = { diagonal: matrix.diagonal, coupling, border, right, borderRight };
  addReadings(data, belief, { state, sums });
  addTies(data, belief, { state, sums });
  const factor = factorBlockTridiagonal(matrix);
  blockForwardSolve(factor, coupling, b);
  subtractGram(border, coupling, b);
  return { factor, halfway: coupling, border: choleskyFactor(border, b), b, right, borderRight };
}

/** The prior's precision of n stations; that of the first `layers` unknowns is scaled. */
export function priorMatrix(
  alike: Float64Array,
  n: number,
  { layers, scale }: { readonly layers: number; readonly scale: number },
): BlockTridiagonal {
  const q = alike.length;
  const matrix = blockTridiagonal(n, q);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < q; j++) {
      const factor = j < layers ? scale : 1;
      matrix.diagonal[(i * q + j) * q + j] = factor * precisionAt(alike[j]!, i, n);
      if (i + 1 < n) matrix.below[(i * q + j) * q + j] = factor * precisionBetween(alike[j]!);
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

interface Adding {
  readonly state: LineState;
  readonly sums: Sums;
}

function addReadings(data: LineData, belief: LineBelief, { state, sums }: Adding): void {
  const { n, b, c, m, q, gainSd, shiftSd_ppm } = data;
  const residual = residualAt(data, belief, state);
  const lower = belief.prior.layers.factor;
  const row = new Float64Array(m);
  for (let i = 0; i < n; i++) {
    if (data.known[i] === 0) continue;
    for (let d = 0; d < c; d++) {
      const left = residual(i, d);
      if (Number.isNaN(left)) continue;
      const weight = huberWeight(left);
      const root = Math.sqrt(weight) / (data.sd_ppm[i * c + d]! * belief.noiseScale[d]!);
      const gain = gainOf(data, state, { i, d }) * root;
      whitenRow(row, state.jacobian_ppm, { at: (i * c + d) * m, lower, scale: gain });
      const pull = Math.sqrt(weight) * left;
      const response = state.response_ppm[i * c + d]! * root;
      const own = { index: m + data.walk[d]!, value: response * data.walkSd };
      addRow(sums, row, { from: i * q, q, pull, own });
      const byGain = response * gainSd[d]!;
      const byShift = shiftSd_ppm[d]! * root;
      for (let j = 0; j < (own.value === 0 ? m : m + 1); j++) {
        const value = j < m ? row[j]! : own.value;
        const to = (i * q + (j < m ? j : own.index)) * b;
        sums.coupling[to + d]! += value * byGain;
        if (b > c) sums.coupling[to + c + d]! += value * byShift;
      }
      sums.border[d * b + d]! += byGain * byGain;
      sums.borderRight[d]! += byGain * pull;
      if (b === c) continue;
      sums.border[(c + d) * b + d]! += byGain * byShift;
      sums.border[(c + d) * b + c + d]! += byShift * byShift;
      sums.borderRight[c + d]! += byShift * pull;
    }
  }
}

function addTies(data: LineData, belief: LineBelief, { state, sums }: Adding): void {
  const row = new Float64Array(data.m);
  for (const tie of data.ties) {
    whitenRow(row, tie.weights, { at: 0, lower: belief.prior.layers.factor, scale: 1 / tie.sd });
    const pull = tieResidual(tie, state.model, data.m);
    addRow(sums, row, { from: tie.station * data.q, q: data.q, pull, own: NOTHING });
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

/** What multiplies a channel's response at a station: its gain and the walk's error there. */
export function gainOf(
  { m, q, gainSd, walk, walkSd }: LineData,
  state: Pick<LineState, "u" | "channel">,
  { i, d }: { readonly i: number; readonly d: number },
): number {
  const own = walkSd > 0 ? walkSd * state.u[i * q + m + walk[d]!]! : 0;
  return 1 + gainSd[d]! * state.channel[d]! + own;
}

/** Where a datum's row stands: its first unknown, the pull of its residual, its walk error's entry. */
interface RowPlace {
  readonly from: number;
  readonly q: number;
  readonly pull: number;
  readonly own: { readonly index: number; readonly value: number };
}

/** Of a row that no walk's error is in. */
export const NOTHING = { index: 0, value: 0 };

/** Adds rowᵀ row to the station's lower triangle and row × pull to the right-hand side. */
export function addRow(
  { diagonal, right }: Pick<Sums, "diagonal" | "right">,
  row: Float64Array,
  { from, q, pull, own }: RowPlace,
): void {
  const m = row.length;
  for (let i = 0; i < m; i++) {
    const to = (from + i) * q;
    for (let j = 0; j <= i; j++) diagonal[to + j]! += row[i]! * row[j]!;
    right[from + i]! += row[i]! * pull;
  }
  if (own.value === 0) return;
  const to = (from + own.index) * q;
  for (let j = 0; j < m; j++) diagonal[to + j]! += own.value * row[j]!;
  diagonal[to + own.index]! += own.value * own.value;
  right[from + own.index]! += own.value * pull;
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
