import { blockSolve } from "../../../numerics/block-solve.js";
import {
  type BlockTridiagonal,
  factorBlockTridiagonal,
} from "../../../numerics/block-tridiagonal.js";
import type { Random } from "../../../numerics/random.js";
import { correlations, timesPrecision, toModel } from "../../prior/line-prior.js";
import { type DrawNoise, drawnNoise, opposite } from "./draw-noise.js";
import type { LineData } from "./line-data.js";
import {
  addRow,
  type MapEstimate,
  NO_WALK_ERROR,
  priorMatrix,
  solveLine,
  whitenRow,
} from "./line-equations.js";
import { tieResidual } from "./line-state.js";
import { type ScaledRows, scaledRows } from "./scaled-rows.js";

/**
 * Draws of a line's ln conductivities, n × m each, from the posterior, by randomised maximum
 * likelihood: each is the MAP estimate for readings with new noise and a new draw from the prior as
 * prior mean. The posterior is curved, since readings respond to sums of conductivities and the
 * unknowns are logarithms; draws from the normal equations alone would have too conductive a mean.
 * About the MAP estimate a response is taken as linear in conductivity, which holds where induction
 * is weak. Draws come in antithetic pairs, so that linear terms cancel in their mean.
 *
 * @param take called with each draw; a promise that it returns is awaited
 * Source: Ba, de Wiljes, Oliver & Reich 2021, Randomized maximum likelihood based posterior sampling,
 * arXiv 2101.03612, after Oliver, He & Reynolds 1996 and Kitanidis 1995 (both from memory).
 */
export async function drawLines(
  line: MapEstimate,
  { draws, random }: { readonly draws: number; readonly random: Random },
  take: (drawn: PosteriorDraw) => void | Promise<void>,
): Promise<void> {
  const rows = scaledRows(line);
  let noise: DrawNoise | null = null;
  for (let k = 0; k < draws; k++) {
    noise = noise === null || k % 2 === 0 ? drawnNoise(line, random) : opposite(noise);
    await take(rmlDraw(line, rows, noise));
  }
}

/** A line drawn from the posterior, and the same draw of the linearised problem. */
export interface PosteriorDraw {
  /** n × m. */
  readonly lnConductivity: Float64Array;
  /** n × m deviations from the MAP estimate. */
  readonly linear: Float64Array;
}

/** Gauss-Newton steps of a draw after the linear one. */
const CORRECTIONS = 2;
/** The most prior deviations that an unknown moves by in one of them. */
const LONGEST = 2;

function rmlDraw(line: MapEstimate, rows: ScaledRows, noise: DrawNoise): PosteriorDraw {
  const { data, hyper, state } = line;
  const prior = timesPrecision(noise.u, correlations(hyper.prior, data));
  const { u, channel } = linearDraw(line, rows, { noise, prior });
  const { layers } = hyper.prior;
  const linear = toModel(layers, 0, { u, q: data.q });
  for (let correction = 0; correction < CORRECTIONS; correction++) {
    const step = correctionStep(line, rows, { noise, prior, u, channel });
    const most = step.reduce((largest, value) => Math.max(largest, Math.abs(value)), LONGEST);
    for (let k = 0; k < u.length; k++) u[k]! += (LONGEST / most) * step[k]!;
  }
  const drawnU = u.map((value, k) => state.u[k]! + value);
  return {
    lnConductivity: toModel(layers, hyper.mean, { u: drawnU, q: data.q }),
    linear,
  };
}

interface Drawing {
  readonly noise: DrawNoise;
  /** Q times the draw from the prior. */
  readonly prior: Float64Array;
}

/** The draw of the linearised problem: deviations from the MAP estimate. */
function linearDraw(
  { data, hyper, equations }: MapEstimate,
  rows: ScaledRows,
  { noise, prior }: Drawing,
) {
  const { n, b, c, m, q, walk } = data;
  const { factor: lower } = hyper.prior.layers;
  const right = prior.slice();
  const border = noise.channel.slice();
  const row = new Float64Array(m);
  for (let at = 0; at < n * c; at++) {
    const [i, d] = [Math.floor(at / c), at % c];
    const weighted = noise.readings[at]!;
    whitenRow(row, rows.rows, { at: at * m, lower, scale: weighted });
    addTo(right, row, i * q);
    if (rows.walkError[at] !== 0) right[i * q + m + walk[d]!]! += weighted * rows.walkError[at]!;
    border[d]! += weighted * rows.gain[at]!;
    if (b > c) border[c + d]! += weighted * rows.shift[at]!;
  }
  for (const [t, tie] of data.ties.entries()) {
    whitenRow(row, tie.weights, { at: 0, lower, scale: noise.ties[t]! / tie.sd });
    addTo(right, row, tie.station * q);
  }
  return solveLine(equations, right, border);
}

function addTo(sums: Float64Array, row: Float64Array, from: number): void {
  for (let j = 0; j < row.length; j++) sums[from + j] = sums[from + j]! + row[j]!;
}

interface Correcting extends Drawing {
  readonly u: Float64Array;
  readonly channel: Float64Array;
}

/** A Gauss-Newton step of a draw's stations, the channels' errors fixed. */
function correctionStep(
  { data, hyper, state }: MapEstimate,
  rows: ScaledRows,
  drawing: Correcting,
) {
  const { n, m, q } = data;
  const { noise, prior, u } = drawing;
  const correlation = correlations(hyper.prior, data);
  const { layers } = hyper.prior;
  const matrix = priorMatrix(correlation, n, { layers: m, scale: 1 });
  const now = u.map((value, k) => state.u[k]! + value);
  const right = timesPrecision(now, correlation).map((value, k) => prior[k]! - value);
  const moved = toModel(layers, 0, { u, q });
  addReadingsAt({ data, rows, drawing, moved, lower: layers.factor }, { matrix, right });
  const row = new Float64Array(m);
  const model = state.model.map((value, at) => value + moved[at]!);
  for (const [t, tie] of data.ties.entries()) {
    whitenRow(row, tie.weights, { at: 0, lower: layers.factor, scale: 1 / tie.sd });
    const weighted = tieResidual(tie, model, m) + noise.ties[t]!;
    addRow({ diagonal: matrix.diagonal, right }, row, {
      from: tie.station * q,
      q,
      weighted,
      walkError: NO_WALK_ERROR,
    });
  }
  blockSolve(factorBlockTridiagonal(matrix), right);
  return right;
}

interface ReadingsAt {
  readonly data: LineData;
  readonly rows: ScaledRows;
  readonly drawing: Correcting;
  /** n × m changes of ln conductivity from the MAP estimate. */
  readonly moved: Float64Array;
  readonly lower: Float64Array;
}

function addReadingsAt(
  { data, rows, drawing, moved, lower }: ReadingsAt,
  { matrix, right }: { readonly matrix: BlockTridiagonal; readonly right: Float64Array },
): void {
  const { n, b, c, m, q, walk } = data;
  const { noise, u, channel } = drawing;
  const [here, row, grown] = [new Float64Array(m), new Float64Array(m), new Float64Array(m)];
  const sums = { diagonal: matrix.diagonal, right };
  for (let i = 0; i < n; i++) {
    if (data.known[i] === 0) continue;
    for (let j = 0; j < m; j++) grown[j] = Math.exp(moved[i * m + j]!);
    for (let d = 0; d < c; d++) {
      const at = i * c + d;
      const walkError = { index: m + walk[d]!, value: rows.walkError[at]! };
      let weighted = rows.residuals[at]! + noise.readings[at]! - rows.gain[at]! * channel[d]!;
      if (b > c) weighted -= rows.shift[at]! * channel[c + d]!;
      if (walkError.value !== 0) weighted -= walkError.value * u[i * q + walkError.index]!;
      for (let j = 0; j < m; j++) {
        here[j] = rows.rows[at * m + j]! * grown[j]!;
        weighted -= here[j]! - rows.rows[at * m + j]!;
      }
      whitenRow(row, here, { at: 0, lower, scale: 1 });
      addRow(sums, row, { from: i * q, q, weighted, walkError });
    }
  }
}
