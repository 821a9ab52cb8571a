import { blockSolve } from "../numerics/block-solve.js";
import { type BlockTridiagonal, factorBlockTridiagonal } from "../numerics/block-tridiagonal.js";
import type { Random } from "../numerics/random.js";
import type { LineData } from "./line-data.js";
import {
  addRow,
  gainOf,
  type LineEquations,
  priorMatrix,
  solveLine,
  whitenRow,
} from "./line-equations.js";
import { correlations, timesPrecision, toModel } from "./line-prior.js";
import {
  huberWeight,
  type LineBelief,
  type LineState,
  residualAt,
  tieResidual,
} from "./line-state.js";

/** A line at its most likely model. */
export interface LikelyLine {
  readonly data: LineData;
  readonly belief: LineBelief;
  readonly state: LineState;
  readonly equations: LineEquations;
}

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
 * Source: Oliver, He & Reynolds 1996 (conditioning to noisy data); Kitanidis 1995, Quasi-linear
 * geostatistical theory for inversing.
 */
export async function drawLines(
  line: LikelyLine,
  { draws, random }: { readonly draws: number; readonly random: Random },
  take: (drawn: DrawnLine) => void | Promise<void>,
): Promise<void> {
  const rows = scaledRows(line);
  let noise: Noise | null = null;
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

/** What makes a draw: deviates of the readings and ties, and a line from the prior. */
interface Noise {
  /** n × c, standard normal. */
  readonly readings: Float64Array;
  readonly ties: Float64Array;
  /** n × q and b unknowns from their prior. */
  readonly u: Float64Array;
  readonly channel: Float64Array;
}

function drawnNoise({ data, belief, equations }: LikelyLine, random: Random): Noise {
  const { n, c, q, ties } = data;
  const normals = (length: number) => Float64Array.from({ length }, () => random.normal());
  const u = normals(n * q);
  for (const [j, alike] of correlations(belief.prior, data).entries()) {
    const fresh = Math.sqrt(1 - alike * alike);
    for (let at = q + j; at < u.length; at += q) u[at] = alike * u[at - q]! + fresh * u[at]!;
  }
  return { readings: normals(n * c), ties: normals(ties.length), u, channel: normals(equations.b) };
}

function opposite({ readings, ties, u, channel }: Noise): Noise {
  const turned = (values: Float64Array) => values.map((value) => -value);
  return { readings: turned(readings), ties: turned(ties), u: turned(u), channel: turned(channel) };
}

/** Each datum at the most likely model, over its deviation; 0 throughout where there is none. */
interface ScaledRows {
  /** n × c × m derivatives to ln conductivity. */
  readonly rows: Float64Array;
  /** n × c each: what is left of the datum, and its derivatives to its walk's error, to its channel's gain and zero. */
  readonly left: Float64Array;
  readonly own: Float64Array;
  readonly gain: Float64Array;
  readonly shift: Float64Array;
}

function scaledRows({ data, belief, state }: LikelyLine): ScaledRows {
  const { n, c, m, gainSd, shiftSd_ppm, walkSd } = data;
  const blank = () => new Float64Array(n * c);
  const [left, own, gain, shift] = [blank(), blank(), blank(), blank()];
  const rows = new Float64Array(n * c * m);
  const residual = residualAt(data, belief, state);
  for (let i = 0; i < n; i++) {
    for (let d = 0; d < c && data.known[i] === 1; d++) {
      const at = i * c + d;
      const size = residual(i, d);
      if (Number.isNaN(size)) continue;
      const root = Math.sqrt(huberWeight(size));
      const scale = root / (data.sd_ppm[at]! * belief.noiseScale[d]!);
      const byModel = scale * gainOf(data, state, { i, d });
      for (let j = 0; j < m; j++) rows[at * m + j] = byModel * state.jacobian_ppm[at * m + j]!;
      left[at] = root * size;
      own[at] = scale * state.response_ppm[at]! * walkSd;
      gain[at] = scale * state.response_ppm[at]! * gainSd[d]!;
      shift[at] = scale * shiftSd_ppm[d]!;
    }
  }
  return { rows, left, own, gain, shift };
}

/** Times that a draw is brought back to what its readings say. */
const BENDS = 2;
/** No unknown moves by more than so many prior deviations in one of them. */
const LONGEST = 2;

function modelUnder(line: LikelyLine, rows: ScaledRows, noise: Noise): DrawnLine {
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
  readonly noise: Noise;
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
      own: NONE,
    });
  }
  blockSolve(factorBlockTridiagonal(matrix), right);
  return right;
}

const NONE = { index: 0, value: 0 };

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
