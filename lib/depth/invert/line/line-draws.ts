import { blockSolve } from "../../../numerics/algebra/block-solve.js";
import { factorBlockTridiagonal } from "../../../numerics/algebra/block-tridiagonal.js";
import type { Random } from "../../../numerics/random.js";
import { correlations, timesPrecision, toModel } from "../../prior/line-prior.js";
import { type DrawNoise, drawnNoise, opposite } from "./draw-noise.js";
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
 * Source: Ba, de Wiljes, Oliver & Reich 2021, Randomized maximum likelihood based posterior
 * sampling, arXiv 2101.03612, after Oliver, He & Reynolds 1996 and Kitanidis 1995 (both from
 * memory).
 */
export async function drawLines(
  map: MapEstimate,
  { draws, random }: { readonly draws: number; readonly random: Random },
  take: (drawn: PosteriorDraw) => void | Promise<void>,
): Promise<void> {
  const rows = scaledRows(map);
  let noise: DrawNoise | null = null;
  for (let k = 0; k < draws; k++) {
    noise = noise === null || k % 2 === 0 ? drawnNoise(map, random) : opposite(noise);
    const prior = timesPrecision(noise.u, correlations(map.hyper.prior, map.data));
    await take(rmlDraw({ map, rows, noise, prior }));
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

/** What a draw is made from. */
interface Drawing {
  readonly map: MapEstimate;
  readonly rows: ScaledRows;
  readonly noise: DrawNoise;
  /** Q times the draw from the prior. */
  readonly prior: Float64Array;
}

function rmlDraw(drawing: Drawing): PosteriorDraw {
  const { data, hyper, u: estimate } = drawing.map;
  const { layers } = hyper.prior;
  const { u, channel } = linearDraw(drawing);
  const linear = toModel(layers, 0, { u, q: data.q });
  for (let correction = 0; correction < CORRECTIONS; correction++) {
    const step = correctionStep({ ...drawing, u, channel });
    const most = step.reduce((largest, value) => Math.max(largest, Math.abs(value)), LONGEST);
    for (let k = 0; k < u.length; k++) u[k]! += (LONGEST / most) * step[k]!;
  }
  const drawn = u.map((value, k) => estimate[k]! + value);
  return { lnConductivity: toModel(layers, hyper.mean, { u: drawn, q: data.q }), linear };
}

/** The draw of the linearised problem: deviations from the MAP estimate. */
function linearDraw({ map, rows, noise, prior }: Drawing) {
  const { n, b, c, m, q, walk, ties } = map.data;
  const { factor: lower } = map.hyper.prior.layers;
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
  for (const [t, tie] of ties.entries()) {
    whitenRow(row, tie.weights, { at: 0, lower, scale: noise.ties[t]! / tie.sd });
    addTo(right, row, tie.station * q);
  }
  return solveLine(map.equations, right, border);
}

function addTo(sums: Float64Array, row: Float64Array, from: number): void {
  for (let j = 0; j < row.length; j++) sums[from + j] = sums[from + j]! + row[j]!;
}

/** A draw so far: its deviations from the MAP estimate. */
interface Drawn extends Drawing {
  readonly u: Float64Array;
  readonly channel: Float64Array;
}

/** A Gauss-Newton step of a draw's stations, the channels' errors fixed. */
function correctionStep(drawn: Drawn): Float64Array {
  const { map, noise, prior, u } = drawn;
  const { n, m, q, ties } = map.data;
  const { layers } = map.hyper.prior;
  const correlation = correlations(map.hyper.prior, map.data);
  const matrix = priorMatrix(correlation, n, { layers: m, scale: 1 });
  const now = u.map((value, k) => map.u[k]! + value);
  const right = timesPrecision(now, correlation).map((value, k) => prior[k]! - value);
  const sums = { diagonal: matrix.diagonal, right };
  const moved = toModel(layers, 0, { u, q });
  addReadingsAt(drawn, moved, sums);
  const row = new Float64Array(m);
  const model = map.model.map((value, at) => value + moved[at]!);
  for (const [t, tie] of ties.entries()) {
    whitenRow(row, tie.weights, { at: 0, lower: layers.factor, scale: 1 / tie.sd });
    const weighted = tieResidual(tie, model, m) + noise.ties[t]!;
    addRow(sums, row, { from: tie.station * q, q, weighted, walkError: NO_WALK_ERROR });
  }
  blockSolve(factorBlockTridiagonal(matrix), right);
  return right;
}

/** Adds the readings at n × m changes `moved` of ln conductivity from the MAP estimate. */
function addReadingsAt(
  { map, rows, noise, u, channel }: Drawn,
  moved: Float64Array,
  sums: { readonly diagonal: Float64Array; readonly right: Float64Array },
): void {
  const { n, b, c, m, q, walk, known } = map.data;
  const { factor: lower } = map.hyper.prior.layers;
  const [here, row, grown] = [new Float64Array(m), new Float64Array(m), new Float64Array(m)];
  for (let i = 0; i < n; i++) {
    if (known[i] === 0) continue;
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
