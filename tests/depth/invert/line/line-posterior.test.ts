import { inverse } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { lineEquations } from "../../../../lib/depth/invert/line/line-equations.js";
import {
  lnCovariances,
  timesLineResolution,
  whitenedCovariances,
  whitenedNoise,
} from "../../../../lib/depth/invert/line/line-posterior.js";
import {
  data,
  equations,
  g,
  hyper,
  m,
  n,
  p,
  posterior,
  prior,
  q,
  ROUNDING,
  r,
  state,
} from "../../../support/dense-line.js";
import { expectClose } from "../../../support/expect-close.js";

describe("whitenedCovariances", () => {
  it("are each station's posterior covariance, the channels' errors included", () => {
    const found = whitenedCovariances(equations, q);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < q; j++) {
        for (let k = 0; k < q; k++) {
          expectClose(found[(i * q + j) * q + k]!, posterior.get(i * q + j, i * q + k), ROUNDING);
        }
      }
    }
  });

  it("are finite where where a station has no reading nor where a zero is known", () => {
    expect(
      lnCovariances(whitenedCovariances(equations, q), prior.layers.factor, q)[2]!.every(
        Number.isFinite,
      ),
    ).toBe(true);
  });
});

describe("timesLineResolution", () => {
  it("is nothing without data and grows to the change where the data tell all", () => {
    const change = Float64Array.of(1, 1, 1);
    const blind = { ...data, value_ppm: data.value_ppm.map(() => Number.NaN), ties: [] };
    for (const value of timesLineResolution(change, {
      equations: lineEquations({ ...state, data: blind }),
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
    const found = whitenedNoise({ ...state, equations });
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
