import { fromModel, linePrior } from "../../../prior/line-prior.js";
import { gaussNewton } from "../gauss-newton.js";
import type { LineData } from "../line-data.js";
import { lineEquations } from "../line-equations.js";
import { whitenedCovariances } from "../line-posterior.js";
import type { Hyperparameters, LineState } from "../line-state.js";
import type { Progress } from "../progress.js";
import { startOfLine } from "../start-line.js";
import { findNoiseScale } from "./find-noise-scale.js";
import { findPriorHyperparameters } from "./find-prior-hyperparameters.js";
import { sampleOfLine } from "./sample-of-line.js";

/** Alternations between hyperparameters and Gauss-Newton steps of the estimate under them. */
export const ROUNDS = 2;
export const STEPS = 5;
/** Stations that a long line is sampled at. */
export const SAMPLE = 1500;

/**
 * The prior's hyperparameters by maximum evidence and each channel's noise by expectation
 * maximisation, in turn with the MAP estimate under them; of a long line, on a sample of it.
 * Returned with the channels' errors of that estimate.
 */
export async function findHyperparameters(
  line: LineData,
  before: Hyperparameters,
  progress: Progress,
): Promise<Pick<LineState, "hyper" | "channel">> {
  const data = sampleOfLine(line, SAMPLE);
  const { n, q, top_m, spacing_m } = data;
  const centre = before.prior.hyperparameters;
  let hyper = before;
  let channel: Float64Array = new Float64Array(data.b);
  let { model } = startOfLine(data);
  let u: Float64Array = new Float64Array(n * q);
  for (let round = 0; round < ROUNDS; round++) {
    u = fromModel(hyper.prior.layers, model, { mean: hyper.mean, u, q });
    const state = await gaussNewton(data, hyper, { u, channel, steps: STEPS, progress });
    const noiseScale = findNoiseScale(state, whitenedCovariances(lineEquations(state), q));
    const rescaled = { ...state, hyper: { ...hyper, noiseScale } };
    const found = findPriorHyperparameters(rescaled, centre);
    hyper = { ...hyper, prior: linePrior(top_m, found, spacing_m), noiseScale };
    ({ u, channel, model } = state);
  }
  return { hyper, channel };
}
