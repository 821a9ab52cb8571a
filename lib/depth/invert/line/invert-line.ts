import { seededRandom } from "../../../numerics/random.js";
import { median } from "../../../numerics/robust.js";
import type { Campaign } from "../../../survey/survey.js";
import type { Stations } from "../../data/gather-stations.js";
import type { DepthOptions } from "../../options.js";
import { fromModel, linePrior, type Strengths } from "../../prior/line-prior.js";
import { DrawGatherer, type DrawnMoments } from "./draw-moments.js";
import { settleLine } from "./gauss-newton.js";
import { findBelief, ROUNDS, SAMPLE, STEPS } from "./hyperparameters/find-hyperparameters.js";
import { lineData } from "./line-data.js";
import { drawLines } from "./line-draws.js";
import { type LikelyLine, lineEquations } from "./line-equations.js";
import { whitenedCovariances } from "./line-posterior.js";
import type { LineBelief } from "./line-state.js";
import { Pace } from "./progress.js";
import { startOfLine } from "./start-line.js";

/** A line settled: the most likely model, and the equations that hold its spread. */
export interface SettledLine extends LikelyLine {
  /** n × q × q posterior covariances of the stations' unknowns. */
  readonly covariance: Float64Array;
  /** What draws tell of the posterior's mean, and of the spread beyond the normal equations. */
  readonly moments: DrawnMoments;
}

const LAST_STEPS = 25;
/** Draws that mean and spread are taken over: they leave a tenth of a deviation in the mean. */
const DRAWS = 16;
/** Sweeps over the line that they take as long as. */
const DRAW_SWEEPS = 12;

/**
 * The layered earths along a line, all stations together: the most likely model by damped
 * Gauss-Newton on Σ loss((value − response)/sd) + uᵀQu + |channel errors|², with a Huber loss; the
 * spread from its normal equations; the mean over draws, which follow the bend of the posterior.
 * Stations without readings are bridged by the prior alone.
 */
export async function invertLine(
  campaign: Campaign,
  stations: Stations,
  used: DepthOptions,
): Promise<SettledLine> {
  const data = lineData(campaign, stations, used);
  const { n, c, q, top_m } = data;
  const { levelSd, layerSd, correlation_m, along_m } = used;
  const usual: Strengths = { levelSd, layerSd, correlation_m, along_m };
  const start = startOfLine(data);
  const before: LineBelief = {
    prior: linePrior(top_m, usual, data.spacing_m),
    mean: used.priorMean_ohm_m === null ? start.mean : -Math.log(used.priorMean_ohm_m),
    noiseScale: new Float64Array(c).fill(1),
  };
  const pace = paceOf(n, used);
  const { belief, channel } =
    used.strengths === "found"
      ? await findBelief(data, before, pace)
      : { belief: before, channel: new Float64Array(data.b) };
  const u = fromModel(belief.prior.layers, start.model, {
    mean: belief.mean,
    u: new Float64Array(n * q),
    q,
  });
  const state = await settleLine(data, belief, { u, channel, steps: LAST_STEPS, pace });
  const equations = lineEquations(data, belief, state);
  const covariance = whitenedCovariances(equations, q);
  const moments = await momentsOf({ data, belief, state, equations }, used.seed, pace);
  pace.done();
  return { data, belief, state, equations, covariance, moments };
}

function paceOf(n: number, used: DepthOptions): Pace {
  const rounds = used.strengths === "found" ? ROUNDS : 0;
  const share = Math.min(1, SAMPLE / n);
  return new Pace(n, used.progress, rounds * share * (STEPS + 1) + LAST_STEPS / 3 + DRAW_SWEEPS);
}

async function momentsOf(line: LikelyLine, seed: number, pace: Pace): Promise<DrawnMoments> {
  const gatherer = new DrawGatherer(line.state.model, line.data.m);
  await drawLines(line, { draws: DRAWS, random: seededRandom(seed) }, (drawn) => {
    gatherer.take(drawn);
    return pace.after(DRAW_SWEEPS / DRAWS);
  });
  return gatherer.moments();
}

/** Median over the stations in use of trace(I − C): levels that the data decide. */
export function independentLevels({ data, covariance }: SettledLine, inUse: readonly boolean[]) {
  const { m, q } = data;
  const levels: number[] = [];
  for (const [i, use] of inUse.entries()) {
    if (!use) continue;
    let sum = 0;
    for (let j = 0; j < m; j++) sum += 1 - covariance[(i * q + j) * q + j]!;
    levels.push(sum);
  }
  return median(levels);
}
