import { fromModel, linePrior } from "../../../prior/line-prior.js";
import { settleLine } from "../gauss-newton.js";
import type { LineData } from "../line-data.js";
import { lineEquations } from "../line-equations.js";
import { whitenedCovariances } from "../line-posterior.js";
import type { LineBelief } from "../line-state.js";
import type { Pace } from "../progress.js";
import { startOfLine } from "../start-line.js";
import { findNoise } from "./find-noise-scale.js";
import { findStrengths } from "./find-prior-hyperparameters.js";
import { sampleOfLine } from "./sample-of-line.js";

/** What is believed of a line, and the channels' errors that go with it. */
export interface FoundBelief {
  readonly belief: LineBelief;
  readonly channel: Float64Array;
}

/** Rounds of the strengths and of the noise; each follows Gauss-Newton steps under the last. */
export const ROUNDS = 2;
export const STEPS = 5;
/** Stations of a long line that speak for all of it. */
export const SAMPLE = 1500;

/**
 * The prior's strengths by `findStrengths` and each channel's noise by `findNoise`, in turn with the
 * most likely model under them; of a long line, on windows spread over it.
 */
export async function findBelief(
  line: LineData,
  before: LineBelief,
  pace: Pace,
): Promise<FoundBelief> {
  const data = sampleOfLine(line, SAMPLE);
  const { n, q, top_m, spacing_m } = data;
  const usual = before.prior.strengths;
  let belief = before;
  let channel: Float64Array = new Float64Array(data.b);
  let { model } = startOfLine(data);
  let u: Float64Array = new Float64Array(n * q);
  for (let round = 0; round < ROUNDS; round++) {
    u = fromModel(belief.prior.layers, model, { mean: belief.mean, u, q });
    const state = await settleLine(data, belief, { u, channel, steps: STEPS, pace });
    const covariance = whitenedCovariances(lineEquations(data, belief, state), q);
    const noiseScale = findNoise(data, belief, { state, covariance });
    const strengths = findStrengths(data, { ...belief, noiseScale }, { state, usual });
    belief = { ...belief, prior: linePrior(top_m, strengths, spacing_m), noiseScale };
    ({ u, channel, model } = state);
  }
  return { belief, channel };
}
