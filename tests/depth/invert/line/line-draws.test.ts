import { describe, expect, it } from "vitest";
import { MomentAccumulator } from "../../../../lib/depth/invert/line/draw-moments.js";
import type { LineData } from "../../../../lib/depth/invert/line/line-data.js";
import { drawLines } from "../../../../lib/depth/invert/line/line-draws.js";
import {
  lineEquations,
  type MapEstimate,
  solveLine,
} from "../../../../lib/depth/invert/line/line-equations.js";
import {
  lnCovariances,
  whitenedCovariances,
} from "../../../../lib/depth/invert/line/line-posterior.js";
import { type Hyperparameters, lineState } from "../../../../lib/depth/invert/line/line-state.js";
import { linePrior, toModel } from "../../../../lib/depth/prior/line-prior.js";
import { seededRandom } from "../../../../lib/numerics/random.js";
import { expectClose } from "../../../support/expect-close.js";

// Readings that are sums of conductivities, as where induction is weak: 30 and 40 of each metre.
const WEIGHTS = [
  [30, 40, 10],
  [10, 30, 40],
];
const top_m = Float64Array.of(0, 1, 2);
const [m, c] = [3, 2];
const SD = 0.25;
const FINE = 0.1;

function dataOf(n: number, value: readonly number[], sd = SD): LineData {
  return {
    n,
    c,
    b: c,
    m,
    q: m,
    top_m,
    spacing_m: 2,
    value_ppm: Float64Array.from({ length: n * c }, (_, at) => value[at % value.length]!),
    sd_ppm: new Float64Array(n * c).fill(sd),
    known: new Uint8Array(n).fill(1),
    gainSd: new Float64Array(c).fill(0.01),
    shiftSd_ppm: new Float64Array(c),
    walk: new Int32Array(c),
    walkSd: 0,
    walkCorrelation: 0.5,
    ties: [],
    forward: () => ({
      layers: m,
      data: c,
      evaluate(model, response, jacobian) {
        for (const [d, row] of WEIGHTS.entries()) {
          response[d] = 0;
          for (const [j, weight] of row.entries()) {
            jacobian[d * m + j] = weight * Math.exp(model[j]!);
            response[d] = response[d]! + jacobian[d * m + j]!;
          }
        }
      },
    }),
  };
}

const hyper: Hyperparameters = {
  prior: linePrior(top_m, { levelSd: 0.7, layerSd: 0.6, correlation_m: 1, along_m: 6 }, 2),
  mean: Math.log(0.03),
  noiseScale: Float64Array.of(1, 1),
};

/** The most likely line, by undamped steps from the prior's mean. */
async function likely(data: LineData): Promise<MapEstimate> {
  let state = await lineState(
    data,
    hyper,
    { u: new Float64Array(data.n * data.q), channel: new Float64Array(data.b) },
    () => null,
  );
  for (let step = 0; step < 30; step++) {
    const equations = lineEquations(state);
    const found = solveLine(equations, equations.right, equations.borderRight);
    const u = state.u.map((value, k) => value + 0.7 * found.u[k]!);
    const channel = state.channel.map((value, k) => value + 0.7 * found.channel[k]!);
    state = await lineState(data, hyper, { u, channel }, () => null);
  }
  return { ...state, equations: lineEquations(state) };
}

async function gathered(line: MapEstimate, draws: number) {
  const accumulator = new MomentAccumulator(line.model, m);
  const linear: Float64Array[] = [];
  await drawLines(line, { draws, random: seededRandom(11) }, (drawn) => {
    accumulator.add(drawn);
    linear.push(drawn.linear);
  });
  return { moments: accumulator.moments(), linear };
}

/** Posterior means of one station's layers by a sum over the prior's whitened unknowns. */
function summed(value: readonly number[]): readonly number[] {
  const N = 110;
  const at = Array.from({ length: N }, (_, k) => -4.5 + (9 * k) / (N - 1));
  const sums = [0, 0, 0];
  let total = 0;
  for (const a of at) {
    for (const b of at) {
      for (const e of at) {
        const x = toModel(hyper.prior.layers, hyper.mean, { u: Float64Array.of(a, b, e), q: m });
        let square = a * a + b * b + e * e;
        for (const [d, row] of WEIGHTS.entries()) {
          const response = row.reduce((sum, weight, j) => sum + weight * Math.exp(x[j]!), 0);
          square += (value[d]! - response) ** 2 / (SD ** 2 + (0.01 * response) ** 2);
        }
        const share = Math.exp(-square / 2);
        total += share;
        for (const j of [0, 1, 2]) sums[j]! += share * x[j]!;
      }
    }
  }
  return sums.map((sum) => sum / total);
}

describe("drawLines", () => {
  it("has the mean of a sum over all models, where the MAP estimate is biased", async () => {
    const value = [2.6, 2.2];
    const line = await likely(dataOf(1, value));
    const { moments } = await gathered(line, 4000);
    const truth = summed(value);
    const covariance = lnCovariances(
      whitenedCovariances(line.equations, m),
      hyper.prior.layers.factor,
      m,
    )[0]!;
    const off = (found: Float64Array) =>
      truth.map((mean, j) => Math.abs(found[j]! - mean) / Math.sqrt(covariance[j * m + j]!));
    expect(Math.max(...off(line.model))).toBeGreaterThan(0.25);
    // Randomised maximum likelihood is not exact where the posterior bends as much as here: a sixth
    // of a deviation at most, 0.15 seen, beside 0.28 of the most likely model.
    expect(Math.max(...off(moments.mean))).toBeLessThan(1 / 6);
  });

  it("has the covariance of the normal equations in its linear part", async () => {
    const line = await likely(dataOf(4, [2.6, 2.2, 2.4, 2.5]));
    const draws = 6000;
    const { linear } = await gathered(line, draws);
    const expected = lnCovariances(
      whitenedCovariances(line.equations, m),
      hyper.prior.layers.factor,
      m,
    );
    for (const [i, matrix] of expected.entries()) {
      for (let j = 0; j < m; j++) {
        for (let k = 0; k < m; k++) {
          const found = linear.reduce((s, x) => s + x[i * m + j]! * x[i * m + k]!, 0) / draws;
          // 3,000 pairs: a standard error of 2.6 % of the product of the deviations at most.
          const scale = Math.sqrt(matrix[j * m + j]! * matrix[k * m + k]!);
          expectClose(found, matrix[j * m + k]!, { absolute: 0.09 * scale });
        }
      }
    }
  });

  it("fits the readings within their noise, unlike the linear draws", async () => {
    const line = await likely(dataOf(4, [2.6, 2.2], FINE));
    const misfit = (model: Float64Array) => {
      let sum = 0;
      for (let i = 0; i < 4; i++) {
        for (const [d, row] of WEIGHTS.entries()) {
          const response = row.reduce((s, w, j) => s + w * Math.exp(model[i * m + j]!), 0);
          const value = line.data.value_ppm[i * c + d]!;
          sum += (value - response) ** 2 / (FINE ** 2 + (0.01 * value) ** 2) / (4 * c);
        }
      }
      return sum;
    };
    const [correctionStep, linear]: [number[], number[]] = [[], []];
    await drawLines(line, { draws: 400, random: seededRandom(3) }, (drawn) => {
      correctionStep.push(misfit(drawn.lnConductivity));
      linear.push(misfit(line.model.map((value, at) => value + drawn.linear[at]!)));
    });
    const mean = (values: readonly number[]) => values.reduce((s, v) => s + v, 0) / values.length;
    expect(mean(correctionStep)).toBeLessThan(2);
    expect(mean(linear)).toBeGreaterThan(4);
  });
});
