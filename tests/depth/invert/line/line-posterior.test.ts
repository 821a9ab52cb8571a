import { determinant, inverse, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import type { LineData } from "../../../../lib/depth/invert/line/line-data.js";
import { lineEquations, solveLine } from "../../../../lib/depth/invert/line/line-equations.js";
import {
  lnCovariances,
  timesLineResolution,
  whitenedCovariances,
  whitenedNoise,
} from "../../../../lib/depth/invert/line/line-posterior.js";
import { type Hyperparameters, lineState } from "../../../../lib/depth/invert/line/line-state.js";
import {
  correlations,
  linePrior,
  logDeterminant,
  timesPrecision,
} from "../../../../lib/depth/prior/line-prior.js";
import { expectClose } from "../../../support/expect-close.js";

// Four stations, three layers, two channels of one walk over a linear response: small enough to be
// worked out as dense matrices, by another road (covariances, not precisions).
const [n, m, c] = [4, 3, 2];
const q = m + 1;
const rows = [
  [3, 1, 0.5],
  [1, 1, 2],
];
const prior = linePrior(
  Float64Array.of(0, 1, 2),
  { levelSd: 0.6, layerSd: 0.5, correlation_m: 1, along_m: 5 },
  2,
);
const hyper: Hyperparameters = { prior, mean: -3, noiseScale: Float64Array.of(1, 1.3) };
const data: LineData = {
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
const state = await lineState(data, hyper, start, () => null);
const equations = lineEquations(data, hyper, state);

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

const p = denseCovariance();
const { g, r } = denseData();
const gain = p
  .mmul(g.transpose())
  .mmul(inverse(g.mmul(p).mmul(g.transpose()).add(Matrix.eye(r.length, r.length))));
const posterior = p.clone().sub(gain.mmul(g).mmul(p));
// Orders of 20 and condition numbers under 1e4: rounding alone, with room.
const ROUNDING = { absolute: 1e-9 };

describe("the normal equations of a line", () => {
  it("give the step that dense matrices give, residuals within the Huber bound", () => {
    expect(Math.max(...r.map(Math.abs))).toBeLessThan(3);
    const expected = gain.mmul(Matrix.columnVector(r));
    const found = solveLine(equations, equations.right, equations.borderRight);
    for (const [k, value] of found.u.entries()) expectClose(value, expected.get(k, 0), ROUNDING);
    for (const [k, value] of found.channel.entries()) {
      expectClose(value, expected.get(n * q + k, 0), ROUNDING);
    }
  });

  it("give each station's posterior covariance, the channels' errors included", () => {
    const found = whitenedCovariances(equations, q);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < q; j++) {
        for (let k = 0; k < q; k++) {
          expectClose(found[(i * q + j) * q + k]!, posterior.get(i * q + j, i * q + k), ROUNDING);
        }
      }
    }
  });

  it("are singular neither where a station has no reading nor where a zero is known", () => {
    expect(
      lnCovariances(whitenedCovariances(equations, q), prior.layers.factor, q)[2]!.every(
        Number.isFinite,
      ),
    ).toBe(true);
  });
});

describe("answerTo", () => {
  it("is nothing without data and grows to the change where the data tell all", () => {
    const change = Float64Array.of(1, 1, 1);
    const blind = { ...data, value_ppm: data.value_ppm.map(() => Number.NaN), ties: [] };
    for (const value of timesLineResolution(change, {
      equations: lineEquations(blind, hyper, state),
      hyper,
      data: blind,
    })) {
      expectClose(value, 0, ROUNDING);
    }
    const seen = timesLineResolution(change, { equations, hyper, data });
    expect(seen[0]!).toBeGreaterThan(0.4);
    expect(seen[0]!).toBeLessThan(1.2);
  });
});

describe("whitenedNoise", () => {
  it("is C − C Q C of the stations alone, Q the layers' prior precision", () => {
    const found = whitenedNoise(data, hyper, { state, equations });
    // Without the border: channel errors known.
    const size = n * q;
    const stations = p.subMatrix(0, size - 1, 0, size - 1);
    const gs = g.subMatrix(0, r.length - 1, 0, size - 1);
    const precision = inverse(stations).add(gs.transpose().mmul(gs));
    const layersOnly = inverse(stations);
    for (let a = 0; a < size; a++) {
      for (let b = 0; b < size; b++) {
        if (a % q >= m || b % q >= m) layersOnly.set(a, b, 0);
      }
    }
    const cov = inverse(precision);
    const expected = cov.clone().sub(cov.mmul(layersOnly).mmul(cov));
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < m; j++) {
        // A one-sided difference by 1 %: off by about 1 % of what the prior holds.
        expectClose(found[(i * q + j) * q + j]!, expected.get(i * q + j, i * q + j), {
          absolute: 0.02,
        });
      }
    }
  });
});

describe("the prior of a line", () => {
  it("has the precision of an autoregression: times its covariance it is the identity", () => {
    const correlation = correlations(prior, data);
    const column = new Float64Array(n * q);
    for (let i = 0; i < n; i++) column[i * q] = correlation[0]! ** i;
    const found = timesPrecision(column, correlation);
    for (const [k, value] of found.entries()) expectClose(value, k === 0 ? 1 : 0, ROUNDING);
  });

  it("has the determinant of that precision", () => {
    const dense = Matrix.zeros(n, n);
    for (let i = 0; i < n; i++) for (let k = 0; k < n; k++) dense.set(i, k, 0.7 ** Math.abs(i - k));
    // det of an AR(1) covariance: (1 − φ²)^(n − 1).
    expectClose(logDeterminant(Float64Array.of(0.7), n), -Math.log(determinant(dense)), ROUNDING);
  });
});
