import { inverse, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { stationForward } from "../../../../lib/depth/data/station-forward.js";
import {
  invertStation,
  type StationForward,
} from "../../../../lib/depth/invert/station/invert-station.js";
import { layerPrior } from "../../../../lib/depth/prior/layer-prior.js";
import { seededRandom } from "../../../../lib/numerics/random.js";
import { channelOf } from "../../../support/campaign.js";
import { expectClose } from "../../../support/expect-close.js";

const top_m = Float64Array.of(0, 0.5, 1.2, 2, 3.5);
const m = top_m.length;
const priorOptions = { levelSd: 1, layerSd: 0.7, correlation_m: 1 };

function linearForward(rows: number[][]): StationForward {
  return {
    layers: m,
    data: rows.length,
    evaluate(model, response, jacobian) {
      for (const [d, row] of rows.entries()) {
        response[d] = row.reduce((sum, value, j) => sum + value * model[j]!, 0);
        for (let j = 0; j < m; j++) jacobian[d * m + j] = row[j]!;
      }
    },
  };
}

describe("invertStation", () => {
  it("gives the closed-form posterior where the response is linear", () => {
    const rows = [
      [1, 0.8, 0.5, 0.2, 0.1],
      [0.2, 0.3, 0.6, 0.9, 1],
    ];
    const data = { value: Float64Array.of(-14, -11), sd: Float64Array.of(0.3, 0.5) };
    const prior = layerPrior(top_m, priorOptions);
    const priorMean = -3;
    const found = invertStation(linearForward(rows), data, {
      prior,
      priorMean,
      xi: new Float64Array(m),
    });
    // Second route: the gain form C Jᵀ (J C Jᵀ + S)⁻¹ in dense algebra.
    const lower = Matrix.from1DArray(m, m, [...prior.factor]);
    const c = lower.mmul(lower.transpose());
    const j = new Matrix(rows);
    const s = Matrix.diag([0.09, 0.25]);
    const gain = c.mmul(j.transpose()).mmul(inverse(j.mmul(c).mmul(j.transpose()).add(s)));
    const start = Matrix.columnVector(new Array(m).fill(priorMean));
    const off = Matrix.columnVector([...data.value]).sub(j.mmul(start));
    const mean = start.clone().add(gain.mmul(off));
    const covariance = c.clone().sub(gain.mmul(j).mmul(c));
    const fromNoise = gain.mmul(s).mmul(gain.transpose());
    for (let i = 0; i < m; i++) {
      expectClose(found.lnConductivity[i]!, mean.get(i, 0), { absolute: 1e-6 });
      for (let k = 0; k < m; k++) {
        expectClose(found.covariance[i * m + k]!, covariance.get(i, k), { absolute: 1e-6 });
        expectClose(found.noiseCovariance[i * m + k]!, fromNoise.get(i, k), { absolute: 1e-6 });
      }
    }
    // Trace of the resolution by its other form, the data's own.
    const levels = j.mmul(gain).trace();
    expectClose(found.levels, levels, { absolute: 1e-6 });
  });

  it("goes by the prior alone where nothing was measured", () => {
    const nothing = { value: Float64Array.of(Number.NaN), sd: Float64Array.of(1) };
    const prior = layerPrior(top_m, priorOptions);
    const found = invertStation(linearForward([[1, 1, 1, 1, 1]]), nothing, {
      prior,
      priorMean: -3,
      xi: Float64Array.of(1, 0, 0, 0, 0),
    });
    expect(found.data).toBe(0);
    expectClose(found.levels, 0, { absolute: 1e-9 });
    for (const value of found.lnConductivity) expectClose(value, -3, { absolute: 1e-6 });
  });

  it("holds 80 % of truths drawn from its own prior within its 80 % intervals", () => {
    const channels = (["HCP", "VCP"] as const).flatMap((orientation) =>
      [1500, 10_000, 60_000].flatMap((frequency_Hz) => [
        channelOf({ kind: "quadrature", frequency_Hz, orientation }),
        channelOf({ kind: "inphase", frequency_Hz, orientation }),
      ]),
    );
    const forward = stationForward(channels, top_m, 0.9);
    const prior = layerPrior(top_m, { ...priorOptions, levelSd: 0.5 });
    const random = seededRandom(11);
    const surveys = 400;
    let held = 0;
    for (let survey = 0; survey < surveys; survey++) {
      const xi = Float64Array.from({ length: m }, () => random.normal());
      const truth = Float64Array.from({ length: m }, (_, i) =>
        xi.reduce((sum, value, j) => (j <= i ? sum + prior.factor[i * m + j]! * value : sum), -3.5),
      );
      const value = new Float64Array(channels.length);
      forward.evaluate(truth, value, new Float64Array(channels.length * m));
      const sd = value.map((v, d) =>
        Math.hypot(0.02 * v, channels[d]!.kind === "inphase" ? 25 : 10),
      );
      const noisy = value.map((v, d) => v + sd[d]! * random.normal());
      const found = invertStation(
        forward,
        { value: noisy, sd },
        { prior, priorMean: -3.5, xi: new Float64Array(m) },
      );
      for (let j = 0; j < m; j++) {
        const z = (truth[j]! - found.lnConductivity[j]!) / Math.sqrt(found.covariance[j * m + j]!);
        if (Math.abs(z) <= 1.2815515655) held += 1;
      }
    }
    // 2,000 intervals, correlated in fives: standard error about 2 %; a linearised posterior may
    // be a little off as well.
    expectClose(held / (surveys * m), 0.8, { absolute: 0.04 });
  });
});
