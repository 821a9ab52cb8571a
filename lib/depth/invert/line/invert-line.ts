import { seededRandom } from "../../../numerics/random.js";
import type { Campaign } from "../../../survey/survey.js";
import type { Stations } from "../../data/gather-stations.js";
import type { DepthOptions } from "../../options.js";
import { fromModel, linePrior, type PriorHyperparameters } from "../../prior/line-prior.js";
import { MomentAccumulator, type PosteriorMoments } from "./draw-moments.js";
import { gaussNewton } from "./gauss-newton.js";
import {
  findHyperparameters,
  ROUNDS,
  SAMPLE,
  STEPS,
} from "./hyperparameters/find-hyperparameters.js";
import { lineData } from "./line-data.js";
import { drawLines } from "./line-draws.js";
import { lineEquations, type MapEstimate } from "./line-equations.js";
import { whitenedCovariances } from "./line-posterior.js";
import type { Hyperparameters } from "./line-state.js";
import { Progress } from "./progress.js";
import { startOfLine } from "./start-line.js";

/** The posterior of a line about its MAP estimate. */
export interface LinePosterior extends MapEstimate {
  /** n × q × q posterior covariances of the stations' unknowns. */
  readonly covariance: Float64Array;
  /** Posterior mean over draws, and the deviations beyond those of the normal equations. */
  readonly moments: PosteriorMoments;
}

const LAST_STEPS = 25;
/** Draws that the moments are taken over: an error of a tenth of a deviation in the mean. */
const DRAWS = 16;
/** The time that they take, in sweeps over the line. */
const DRAW_SWEEPS = 12;

/**
 * The layered earths along a line, all stations jointly: the MAP estimate by damped Gauss-Newton on
 * Σ loss((value − response)/sd) + uᵀQu + |channel errors|², with a Huber loss; covariances from its
 * normal equations; the mean over draws, which follow the curvature of the posterior. Stations
 * without readings are interpolated by the prior.
 */
export async function invertLine(
  campaign: Campaign,
  stations: Stations,
  used: DepthOptions,
): Promise<LinePosterior> {
  const data = lineData(campaign, stations, used);
  const { n, c, q, top_m } = data;
  const { levelSd, layerSd, correlation_m, along_m } = used;
  const centre: PriorHyperparameters = { levelSd, layerSd, correlation_m, along_m };
  const start = startOfLine(data);
  const before: Hyperparameters = {
    prior: linePrior(top_m, centre, data.spacing_m),
    mean: used.priorMean_ohm_m === null ? start.mean : -Math.log(used.priorMean_ohm_m),
    noiseScale: new Float64Array(c).fill(1),
  };
  const progress = progressOf(n, used);
  const { hyper, channel } =
    used.strengths === "found"
      ? await findHyperparameters(data, before, progress)
      : { hyper: before, channel: new Float64Array(data.b) };
  const u = fromModel(hyper.prior.layers, start.model, {
    mean: hyper.mean,
    u: new Float64Array(n * q),
    q,
  });
  const state = await gaussNewton(data, hyper, { u, channel, steps: LAST_STEPS, progress });
  const map = { ...state, equations: lineEquations(state) };
  const covariance = whitenedCovariances(map.equations, q);
  const moments = await momentsOf(map, used.seed, progress);
  progress.done();
  return { ...map, covariance, moments };
}

function progressOf(n: number, used: DepthOptions): Progress {
  const rounds = used.strengths === "found" ? ROUNDS : 0;
  const share = Math.min(1, SAMPLE / n);
  return new Progress(
    n,
    used.progress,
    rounds * share * (STEPS + 1) + LAST_STEPS / 3 + DRAW_SWEEPS,
  );
}

async function momentsOf(
  line: MapEstimate,
  seed: number,
  progress: Progress,
): Promise<PosteriorMoments> {
  const accumulator = new MomentAccumulator(line.model, line.data.m);
  await drawLines(line, { draws: DRAWS, random: seededRandom(seed) }, (drawn) => {
    accumulator.add(drawn);
    return progress.after(DRAW_SWEEPS / DRAWS);
  });
  return accumulator.moments();
}
