import { firstOf, itemAt } from "../../numerics/arrays.js";
import type { DriftKind } from "../drift.js";
import type { DriftFrame } from "../kriging/drift-frame.js";
import { residualProjection } from "../kriging/residual-projection.js";
import { solveDrift } from "../kriging/solve-drift.js";
import type { DriftHypotheses, DriftHypothesis } from "./drift-hypotheses.js";
import type { Component } from "./drift-shapes.js";
import type { SharedPriors } from "./shared-priors.js";
import { SCATTERS } from "./visit-scatter.js";

/** The hypotheses on one channel, averaged by their posterior probabilities. */
export interface AveragedDrift {
  readonly frame: DriftFrame;
  readonly pooled: readonly PooledPosterior[];
  /** Posterior probability of each kind; they sum to 1. */
  readonly odds: Readonly<Record<DriftKind, number>>;
  /** Posterior probability of a step at each of the times at which there may be one. */
  readonly stepProbability: ReadonlyMap<number, number>;
  /** Bayes factor of a drift or a step against neither. */
  readonly evidence: number;
  /** Posterior mean of the scatter of whole visits, in `scatterUnit`. */
  readonly scatter: number;
  /** Posterior mean of the variance that the random walk gains for each hour. */
  readonly perHour: number;
  /** Leave-one-out prediction error of each datum; NaN where the others do not predict it. */
  readonly leaveOneOut: Float64Array;
}

/**
 * Hypotheses of the same components, summed over their scatters. Of a contrast of the drift with
 * covariance c with the data and prior variance v, they add c'p to the mean and wv − c'Sc to the
 * second moment.
 */
export interface PooledPosterior {
  readonly components: readonly Component[];
  /** w: posterior probability of these hypotheses together. */
  readonly weight: number;
  /** p, n entries. */
  readonly dualWeights: Float64Array;
  /** S, n × n. */
  readonly reduction: Float64Array;
}

interface WeightedHypothesis extends DriftHypothesis {
  readonly weight: number;
}

/** The most probable hypotheses that make up this share shape the curve, the others do not. */
const KEPT_WEIGHT = 0.98;

/**
 * Bayesian model averaging over the hypotheses.
 *
 * @param hypotheses one or more
 * @param priors those of the scatters and step sets, as `sharedPriors` gives them
 * Source: Hoeting et al. 1999, Statistical Science 14, 382–417; Kass & Raftery 1995, Journal of the
 * American Statistical Association 90, 773–795 (Bayes factor).
 */
export function averageDrift(hypotheses: DriftHypotheses, priors: SharedPriors): AveragedDrift {
  const best = hypotheses.all.reduce((most, one) => Math.max(most, one.logLikelihood), -Infinity);
  const joint = hypotheses.all.map((one) => {
    const prior =
      one.prior * itemAt(priors.stepSetPrior, one.set) * itemAt(priors.scatterPrior, one.scatter);
    return { ...one, prior, weight: prior * Math.exp(one.logLikelihood - best) };
  });
  const all = normalised(joint);
  const { frame } = firstOf(all);
  return { frame, ...pooledOf(mostProbable(all), frame.data.length), ...summaryOf(all) };
}

function mostProbable(all: readonly WeightedHypothesis[]): readonly WeightedHypothesis[] {
  const order = all.map(({ weight }) => weight).sort((a, b) => b - a);
  let sum = 0;
  const last = order.find((weight) => {
    sum += weight;
    return sum >= KEPT_WEIGHT;
  });
  // Hypotheses as probable as the last one are kept with it, so that rounding decides nothing.
  return normalised(all.filter(({ weight }) => weight >= (last ?? 0) * (1 - 1e-6)));
}

function normalised(all: readonly WeightedHypothesis[]): readonly WeightedHypothesis[] {
  const total = all.reduce((sum, { weight }) => sum + weight, 0);
  return all.map((one) => ({ ...one, weight: one.weight / total }));
}

function summaryOf(all: readonly WeightedHypothesis[]) {
  const posterior = (is: (one: DriftHypothesis) => boolean) =>
    all.reduce((sum, one) => sum + (is(one) ? one.weight : 0), 0);
  const prior = (is: (one: DriftHypothesis) => boolean) =>
    all.reduce((sum, one) => sum + (is(one) ? one.prior : 0), 0);
  const of = (name: DriftKind) => posterior(({ kind }) => kind === name);
  const isStill = ({ kind, steps_s }: DriftHypothesis) => kind === "steady" && steps_s.length === 0;
  const drifts = (one: DriftHypothesis) => !isStill(one);
  const steps_s = new Set(all.flatMap((one) => one.steps_s));
  return {
    odds: {
      steady: of("steady"),
      straight: of("straight"),
      "warm-up": of("warm-up"),
      swinging: of("swinging"),
      wandering: of("wandering"),
    },
    stepProbability: new Map(
      [...steps_s].map((time_s) => [time_s, posterior((one) => one.steps_s.includes(time_s))]),
    ),
    evidence: posterior(drifts) / posterior(isStill) / (prior(drifts) / prior(isStill)),
    perHour: walkVariance(all),
    scatter: all.reduce((sum, one) => sum + itemAt(SCATTERS, one.scatter) * one.weight, 0),
  };
}

/** The random walk is the first component of its hypotheses. */
function walkVariance(all: readonly WeightedHypothesis[]): number {
  const walks = all.filter(({ kind }) => kind === "wandering");
  const span_h = firstOf(all).frame.span_h || 1;
  return walks.reduce(
    (sum, { weight, components }) => sum + (weight * firstOf(components).size ** 2) / span_h,
    0,
  );
}

/**
 * A hypothesis of weight w adds wPy to p and w(P − Pyy'P) to S, P as `residualProjection` has it.
 * Hypotheses that differ in their scatter alone share one covariance, by which they are known.
 */
function pooledOf(kept: readonly WeightedHypothesis[], n: number) {
  const pools = new Map<Float64Array, PooledPosterior & { weight: number }>();
  const errors = new Float64Array(n);
  for (const { covariance, components, frame, weight } of kept) {
    const [dualWeights, reduction] = [new Float64Array(n), new Float64Array(n * n)];
    const pool = pools.get(covariance) ?? { components, weight: 0, dualWeights, reduction };
    pools.set(covariance, pool);
    const solved = solveDrift(frame, covariance, 1);
    const { matrix, leaveOneOut } = residualProjection(solved);
    const dual = solved.dualWeights;
    pool.weight += weight;
    for (let i = 0; i < n; i++) {
      pool.dualWeights[i]! += weight * dual[i]!;
      errors[i]! += weight * leaveOneOut[i]!;
      for (let j = 0; j < n; j++) {
        pool.reduction[i * n + j]! += weight * (matrix[i * n + j]! - dual[i]! * dual[j]!);
      }
    }
  }
  return { pooled: [...pools.values()], leaveOneOut: errors };
}
