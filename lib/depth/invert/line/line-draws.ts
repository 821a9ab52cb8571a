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
  type LikelyLine,
  NOTHING,
  priorMatrix,
  solveLine,
  whitenRow,
} from "./line-equations.js";
import { tieResidual } from "./line-state.js";
import { type ScaledRows, scaledRows } from "./scaled-rows.js";

/**
 * Draws of a line's ln conductivities, n × m each, from the posterior, by randomised maximum
 * likelihood: each is the most likely line for readings with new noise and a prior line drawn anew.
 * Readings bend the posterior, as they tell sums of conductivities where its unknowns are
 * logarithms; draws from the normal equations alone would not follow that bend, and their mean would
 * lie to the conductive side. About the most likely model a response is taken as linear in
 * conductivity, which holds where induction is weak. Draws come in pairs of opposite noise, so that
 * what is linear cancels in their mean.
 *
 * @param take called with each draw; a promise that it returns is awaited
 * Source: Ba, de Wiljes, Oliver & Reich 2021, Randomized maximum likelihood based posterior sampling,
 * arXiv 2101.03612, after Oliver, He & Reynolds 1996 and Kitanidis 1995 (both from memory).
 */
export async function drawLines(
  line: LikelyLine,
  { draws, random }: { readonly draws: number; readonly random: Random },
  take: (drawn: DrawnLine) => void | Promise<void>,
): Promise<void> {
  const rows = scaledRows(line);
  let noise: DrawNoise | null = null;
  for (let k = 0; k < draws; k++) {
    noise = noise === null || k % 2 === 0 ? drawnNoise(line, random) : opposite(noise);
    await take(modelUnder(line, rows, noise));
  }
}

/** A line drawn from the posterior. */
export interface DrawnLine {
  /** n × m. */
  readonly lnConductivity: Float64Array;
  /** n × m deviations from the most likely model, as far as the problem is linear. */
  readonly straight: Float64Array;
}

/** Times that a draw is brought back to what its readings say. */
const BENDS = 2;
/** No unknown moves by more than so many prior deviations in one of them. */
const LONGEST = 2;

function modelUnder(line: LikelyLine, rows: ScaledRows, noise: DrawNoise): DrawnLine {
  const { data, belief, state } = line;
  const prior = timesPrecision(noise.u, correlations(belief.prior, data));
  const { u, channel } = straight(line, rows, { noise, prior });
  const { layers } = belief.prior;
  const linear = toModel(layers, 0, { u, q: data.q });
  for (let bend = 0; bend < BENDS; bend++) {
    const step = bent(line, rows, { noise, prior, u, channel });
    const most = step.reduce((largest, value) => Math.max(largest, Math.abs(value)), LONGEST);
    for (let k = 0; k < u.length; k++) u[k]! += (LONGEST / most) * step[k]!;
  }
  const bentU = u.map((value, k) => state.u[k]! + value);
  return {
    lnConductivity: toModel(layers, belief.mean, { u: bentU, q: data.q }),
    straight: linear,
  };
}

interface Drawing {
  readonly noise: DrawNoise;
  /** Q times the prior's line. */
  readonly prior: Float64Array;
}

/** The draw as far as the problem is linear: deviations from the most likely line. */
function straight(
  { data, belief, equations }: LikelyLine,
  rows: ScaledRows,
  { noise, prior }: Drawing,
) {
  const { n, b, c, m, q, walk } = data;
  const { factor: lower } = belief.prior.layers;
  const right = prior.slice();
  const border = noise.channel.slice();
  const row = new Float64Array(m);
  for (let at = 0; at < n * c; at++) {
    const [i, d] = [Math.floor(at / c), at % c];
    const pull = noise.readings[at]!;
    whitenRow(row, rows.rows, { at: at * m, lower, scale: pull });
    addTo(right, row, i * q);
    if (rows.own[at] !== 0) right[i * q + m + walk[d]!]! += pull * rows.own[at]!;
    border[d]! += pull * rows.gain[at]!;
    if (b > c) border[c + d]! += pull * rows.shift[at]!;
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

interface Bending extends Drawing {
  readonly u: Float64Array;
  readonly channel: Float64Array;
}

/** A Gauss-Newton step of a draw's stations, the channels' errors held. */
function bent({ data, belief, state }: LikelyLine, rows: ScaledRows, drawing: Bending) {
  const { n, m, q } = data;
  const { noise, prior, u } = drawing;
  const alike = correlations(belief.prior, data);
  const { layers } = belief.prior;
  const matrix = priorMatrix(alike, n, { layers: m, scale: 1 });
  const now = u.map((value, k) => state.u[k]! + value);
  const right = timesPrecision(now, alike).map((pull, k) => prior[k]! - pull);
  const moved = toModel(layers, 0, { u, q });
  addBentReadings({ data, rows, drawing, moved, lower: layers.factor }, { matrix, right });
  const row = new Float64Array(m);
  const model = state.model.map((value, at) => value + moved[at]!);
  for (const [t, tie] of data.ties.entries()) {
    whitenRow(row, tie.weights, { at: 0, lower: layers.factor, scale: 1 / tie.sd });
    const pull = tieResidual(tie, model, m) + noise.ties[t]!;
    addRow({ diagonal: matrix.diagonal, right }, row, {
      from: tie.station * q,
      q,
      pull,
      own: NOTHING,
    });
  }
  blockSolve(factorBlockTridiagonal(matrix), right);
  return right;
}

interface BentReadings {
  readonly data: LineData;
  readonly rows: ScaledRows;
  readonly drawing: Bending;
  /** n × m changes of ln conductivity from the most likely model. */
  readonly moved: Float64Array;
  readonly lower: Float64Array;
}

function addBentReadings(
  { data, rows, drawing, moved, lower }: BentReadings,
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
      const own = { index: m + walk[d]!, value: rows.own[at]! };
      let pull = rows.left[at]! + noise.readings[at]! - rows.gain[at]! * channel[d]!;
      if (b > c) pull -= rows.shift[at]! * channel[c + d]!;
      if (own.value !== 0) pull -= own.value * u[i * q + own.index]!;
      for (let j = 0; j < m; j++) {
        here[j] = rows.rows[at * m + j]! * grown[j]!;
        pull -= here[j]! - rows.rows[at * m + j]!;
      }
      whitenRow(row, here, { at: 0, lower, scale: 1 });
      addRow(sums, row, { from: i * q, q, pull, own });
    }
  }
}
