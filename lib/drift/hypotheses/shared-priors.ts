import { itemAt, zipped } from "../../numerics/arrays.js";
import type { DriftHypotheses } from "./drift-hypotheses.js";
import type { StepSet } from "./step-sets.js";
import { SCATTER_PRIOR } from "./visit-scatter.js";

/** Priors of one channel's scatter and steps, given the other channels of the instrument. */
export interface SharedPriors {
  /** Of each scatter of whole visits, as `SCATTERS` lists them. */
  readonly scatterPrior: readonly number[];
  /** Of each of the channel's step sets. */
  readonly stepSetPrior: readonly number[];
}

/** Weight of the fixed priors, in channels. */
const PRIOR_CHANNELS = 3;
/** Fixed prior probability that the level steps at a time at which it may. */
const STEP_PRIOR = 0.2;
const ROUNDS = 10;

/**
 * For each channel, the priors of its scatter and steps from the posteriors of all other channels:
 * all are set down together, and a change of battery affects all. Its own checks are left out, as
 * its likelihood holds them. Empirical Bayes in a few rounds.
 *
 * @param within_s steps of two channels are one event where they are this close
 */
export function sharedPriors(
  channels: readonly DriftHypotheses[],
  within_s: number,
): readonly SharedPriors[] {
  const likelihoods = channels.map(likelihoodsOf);
  let priors = channels.map((own): SharedPriors => {
    const stepSetPrior = stepSetPriorOf(own, () => STEP_PRIOR);
    return { scatterPrior: SCATTER_PRIOR, stepSetPrior };
  });
  for (let round = 0; round < ROUNDS; round++) {
    const posteriors = channels.map((own, c) =>
      posteriorOf(own, itemAt(likelihoods, c), itemAt(priors, c)),
    );
    priors = channels.map((own, c): SharedPriors => {
      const others = posteriors.filter((_, d) => d !== c);
      const stepPrior = (time_s: number) => stepPriorFrom(time_s, others, within_s);
      const stepSetPrior = stepSetPriorOf(own, stepPrior);
      return { scatterPrior: scatterPriorFrom(others), stepSetPrior };
    });
  }
  return priors;
}

/** Likelihood of each step set with each scatter, summed over shapes, up to a factor. */
type Likelihoods = readonly Float64Array[];

function likelihoodsOf({ all, sets }: DriftHypotheses): Likelihoods {
  const best = all.reduce((most, one) => Math.max(most, one.logLikelihood), -Infinity);
  const table = sets.map(() => new Float64Array(SCATTER_PRIOR.length));
  for (const { set, scatter, prior, logLikelihood } of all) {
    itemAt(table, set)[scatter]! += prior * Math.exp(logLikelihood - best);
  }
  return table;
}

interface ChannelPosterior {
  /** Of each scatter; empty where the channel has no visits. */
  readonly scatter: readonly number[];
  readonly steps: readonly { readonly time_s: number; readonly probability: number }[];
}

function posteriorOf(
  { possible_s, sets }: DriftHypotheses,
  likelihoods: Likelihoods,
  { scatterPrior, stepSetPrior }: SharedPriors,
): ChannelPosterior {
  const joint = zipped(likelihoods, stepSetPrior).map(([row, prior]) =>
    zipped(Array.from(row), scatterPrior).map(([value, own]) => value * prior * own),
  );
  const total = sumOf(joint.flat());
  if (!(total > 0)) return { scatter: [], steps: [] };
  const scatter = SCATTER_PRIOR.map((_, k) => sumOf(joint.map((row) => itemAt(row, k))) / total);
  const steps = possible_s.map((time_s) => {
    const holding = joint.filter((_, s) => itemAt(sets, s).own_s.includes(time_s));
    return { time_s, probability: sumOf(holding.map(sumOf)) / total };
  });
  return { scatter, steps };
}

function scatterPriorFrom(others: readonly ChannelPosterior[]): readonly number[] {
  const known = others.map(({ scatter }) => scatter).filter(({ length }) => length > 0);
  return SCATTER_PRIOR.map((prior, k) => {
    const found = sumOf(known.map((scatter) => itemAt(scatter, k)));
    return (PRIOR_CHANNELS * prior + found) / (PRIOR_CHANNELS + known.length);
  });
}

function stepPriorFrom(
  time_s: number,
  others: readonly ChannelPosterior[],
  within_s: number,
): number {
  const near = others.flatMap(({ steps }) =>
    steps.filter((one) => Math.abs(one.time_s - time_s) <= within_s).slice(0, 1),
  );
  const found = sumOf(near.map(({ probability }) => probability));
  return (PRIOR_CHANNELS * STEP_PRIOR + found) / (PRIOR_CHANNELS + near.length);
}

/** The possible steps are independent; the priors of the sets there are are scaled to sum to 1. */
function stepSetPriorOf(
  { sets, possible_s }: Pick<DriftHypotheses, "sets" | "possible_s">,
  stepPrior: (time_s: number) => number,
): readonly number[] {
  const steps = possible_s.map((time_s) => ({ time_s, prior: stepPrior(time_s) }));
  const priorOf = ({ own_s }: StepSet) =>
    steps.reduce(
      (product, { time_s, prior }) => product * (own_s.includes(time_s) ? prior : 1 - prior),
      1,
    );
  const priors = sets.map(priorOf);
  const total = sumOf(priors);
  return priors.map((prior) => prior / total);
}

function sumOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}
