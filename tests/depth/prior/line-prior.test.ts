import { determinant, Matrix } from "ml-matrix";
import { describe, it } from "vitest";
import {
  correlations,
  linePrior,
  logDeterminant,
  timesPrecision,
} from "../../../lib/depth/prior/line-prior.js";
import { expectClose } from "../../support/expect-close.js";

const [n, m] = [4, 3];
const q = m + 1;
const prior = linePrior(
  Float64Array.of(0, 1, 2),
  { levelSd: 0.6, layerSd: 0.5, correlation_m: 1, along_m: 5 },
  2,
);
const ROUNDING = { absolute: 1e-9 };

describe("the prior of a line", () => {
  it("has the precision of an autoregression: times its covariance it is the identity", () => {
    const correlation = correlations(prior, { m, q, walkCorrelation: 0.4 });
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
