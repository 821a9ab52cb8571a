import { describe, it } from "vitest";
import { averageDrift } from "../../../lib/drift/hypotheses/average-drift.js";
import { averagedRises } from "../../../lib/drift/hypotheses/averaged-rises.js";
import {
  type DriftHypothesis,
  driftHypotheses,
} from "../../../lib/drift/hypotheses/drift-hypotheses.js";
import { sharedPriors } from "../../../lib/drift/hypotheses/shared-priors.js";
import { choleskyFactor, choleskySolve } from "../../../lib/numerics/algebra/cholesky.js";
import { expectClose } from "../../support/expect-close.js";
import { dataOf, WITHIN_S } from "./support.js";

/** Rise from hour 0 to `hour` under one hypothesis by plain conditioning, its level free. */
function conditioned({ components, frame }: DriftHypothesis, hour: number) {
  const covariance = (a: number, b: number) =>
    components.reduce((sum, { process, size }) => sum + size * size * process.covariance(a, b), 0);
  const at = frame.data.map(({ time_s }) => time_s / 3600);
  const free = 1e7;
  const matrix = Float64Array.from(at.flatMap((a) => at.map((b) => covariance(a, b) + free)));
  for (const [i, { error }] of frame.data.entries()) matrix[i * at.length + i]! += error ** 2;
  const root = choleskyFactor(matrix, at.length);
  const cross = Float64Array.from(at, (a) => covariance(a, hour) - covariance(a, 0));
  const solved = choleskySolve(root, at.length, cross);
  const along = (values: Float64Array) => values.reduce((sum, one, i) => sum + one * solved[i]!, 0);
  const own = covariance(hour, hour) + covariance(0, 0) - 2 * covariance(0, hour);
  const mean = along(Float64Array.from(frame.data, ({ value }) => value));
  return { mean, variance: own - along(cross) };
}

describe("averagedRises", () => {
  it("are the average of all hypotheses conditioned one by one", () => {
    const data = dataOf(3, (h) => 30 * h + 12 * Math.sin(2 * h));
    const own = driftHypotheses(data, { possible_s: [1.25 * 3600], declared_s: [] });
    const [priors] = sharedPriors([own], WITHIN_S);
    const averaged = averageDrift(own, priors!);
    const logs = own.all.map(({ prior, set, scatter, logLikelihood }) => {
      const { stepSetPrior, scatterPrior } = priors!;
      return Math.log(prior * stepSetPrior[set]! * scatterPrior[scatter]!) + logLikelihood;
    });
    const best = Math.max(...logs);
    const weights = logs.map((log) => Math.exp(log - best));
    const total = weights.reduce((sum, one) => sum + one, 0);
    for (const hour of [0.4, 1.24, 1.26, 2.5]) {
      const [rise] = averagedRises(averaged, 0, [3600 * hour]);
      let [mean, square] = [0, 0];
      for (const [k, hypothesis] of own.all.entries()) {
        if (weights[k]! < 1e-9) continue;
        const one = conditioned(hypothesis, hour);
        mean += (weights[k]! / total) * one.mean;
        square += (weights[k]! / total) * (one.variance + one.mean ** 2);
      }
      // The least probable 2 % are left out of the rise; they may lie three deviations off.
      expectClose(rise!.mean, mean, { absolute: 0.02 * 3 * rise!.sd });
      expectClose(rise!.sd, Math.sqrt(square - mean * mean), { relative: 0.05 });
    }
  });
});
