// A line small enough to be solved as dense matrices, by covariances and not by precisions: four
// stations, three layers, two channels of one walk over a linear response.

import { inverse, Matrix } from "ml-matrix";
import type { LineData } from "../../lib/depth/invert/line/line-data.js";
import { lineEquations } from "../../lib/depth/invert/line/line-equations.js";
import { type Hyperparameters, lineState } from "../../lib/depth/invert/line/line-state.js";
import { correlations, linePrior } from "../../lib/depth/prior/line-prior.js";

export const [n, m, c] = [4, 3, 2];
export const q = m + 1;
const rows = [
  [3, 1, 0.5],
  [1, 1, 2],
];
export const prior = linePrior(
  Float64Array.of(0, 1, 2),
  { levelSd: 0.6, layerSd: 0.5, correlation_m: 1, along_m: 5 },
  2,
);
export const hyper: Hyperparameters = { prior, mean: -3, noiseScale: Float64Array.of(1, 1.3) };
export const data: LineData = {
  n,
  c,
  b: 2 * c,
  m,
  q,
  top_m: Float64Array.of(0, 1, 2),
  spacing_m: 2,
  value_ppm: Float64Array.of(-13, -12, -14, Number.NaN, Number.NaN, Number.NaN, -12.5, -11),
  sd_ppm: new Float64Array(n * c).fill(0.4),
  known: Uint8Array.of(1, 1, 0, 1),
  gainSd: Float64Array.of(0.05, 0.02),
  shiftSd_ppm: Float64Array.of(0.3, 0),
  walk: Int32Array.of(0, 0),
  walkSd: 0.03,
  walkCorrelation: 0.4,
  ties: [{ station: 1, weights: Float64Array.of(0.5, 0.5, 0), lnConductivity: -2.8, sd: 0.1 }],
  forward: () => ({
    layers: m,
    data: c,
    evaluate(model, response, jacobian) {
      for (const [d, row] of rows.entries()) {
        response[d] = row.reduce((sum, value, j) => sum + value * model[j]!, 0);
        jacobian.set(row, d * m);
      }
    },
  }),
};

const start = { u: new Float64Array(n * q), channel: new Float64Array(2 * c) };
export const state = await lineState(data, hyper, start, () => null);
export const equations = lineEquations(state);

/** Prior covariance of (n q unknowns, 2 c channel errors), whitened. */
function denseCovariance(): Matrix {
  const size = n * q + 2 * c;
  const out = Matrix.eye(size, size);
  const correlation = correlations(prior, data);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) {
      for (let j = 0; j < q; j++) out.set(i * q + j, k * q + j, correlation[j]! ** Math.abs(i - k));
    }
  }
  return out;
}

/** Rows of the linear data over their deviations, and their residuals at the start. */
function denseData(): { g: Matrix; r: number[] } {
  const g: number[][] = [];
  const r: number[] = [];
  for (let i = 0; i < n; i++) {
    for (let d = 0; d < c; d++) {
      const value = data.value_ppm[i * c + d]!;
      if (Number.isNaN(value)) continue;
      const sd = 0.4 * hyper.noiseScale[d]!;
      const row = new Array<number>(n * q + 2 * c).fill(0);
      for (let j = 0; j < m; j++) {
        for (let k = 0; k <= j; k++)
          row[i * q + k]! += (rows[d]![j]! * prior.layers.factor[j * m + k]!) / sd;
      }
      const response = state.response_ppm[i * c + d]!;
      row[i * q + m] = (response * data.walkSd) / sd;
      row[n * q + d] = (response * data.gainSd[d]!) / sd;
      row[n * q + c + d] = data.shiftSd_ppm[d]! / sd;
      g.push(row);
      r.push((value - response) / sd);
    }
  }
  const tie = new Array<number>(n * q + 2 * c).fill(0);
  for (let j = 0; j < 2; j++) {
    for (let k = 0; k <= j; k++) tie[q + k]! += (0.5 * prior.layers.factor[j * m + k]!) / 0.1;
  }
  g.push(tie);
  r.push((-2.8 + 3) / 0.1);
  return { g: new Matrix(g), r };
}

export const p = denseCovariance();
export const { g, r } = denseData();
export const gain = p
  .mmul(g.transpose())
  .mmul(inverse(g.mmul(p).mmul(g.transpose()).add(Matrix.eye(r.length, r.length))));
/** Gain of the dense data, and the posterior covariance by it. */
export const posterior = p.clone().sub(gain.mmul(g).mmul(p));
// Orders of 20 and condition numbers under 1e4: rounding alone, with room.
export const ROUNDING = { absolute: 1e-9 };
