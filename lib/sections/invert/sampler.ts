import { type BandMatrix, factorBanded } from "../../numerics/algebra/banded.js";
import type { Random } from "../../numerics/random.js";
import { gammaDraw } from "../../numerics/statistics/gamma-draw.js";
import type { CellGraph } from "./cell-graph.js";
import {
  gaussianPosterior,
  precisionNoise,
  priorPrecision,
  solvePosterior,
} from "./gaussian-posterior.js";
import { type Linearised, misfitOf } from "./linearised.js";

/** The prior of a section, and its hyperparameters. */
export interface SectionPrior {
  readonly graph: CellGraph;
  /** Degrees of freedom of the t-distributed differences; Infinity: normal. */
  readonly freedom: number;
  /** Share of the usual weight at each face; below 1 across a break. */
  readonly bond: Float64Array;
  /** Precision and mean of ln ρ of each cell by itself. */
  readonly anchor: Float64Array;
  readonly centre: Float64Array;
  /** Variance between columns over that between rows; null: found. */
  readonly ratio: number | null;
  /** ln det of the precision by the logarithm of that ratio, the variance between rows being 1. */
  readonly determinant: (logRatio: number) => number;
}

/** A state of the chain. */
export interface SectionDraw {
  readonly logResistivity: Float64Array;
  /** One more section under the same strengths. */
  readonly twin: Float64Array;
  /** Mean of ln ρ given the rest. */
  readonly mean: Float64Array;
  /** Of each face, the local precision over the usual one. */
  readonly local: Float64Array;
  /** Variance of a difference at a square face, between columns and between rows. */
  readonly variance: readonly [number, number];
  /** Variance of the noise over the stated one. */
  readonly noise: number;
}

export interface SamplerSettings {
  readonly random: Random;
  /** Variance of the noise over the stated one where it is not sampled. */
  readonly heldNoise: number | null;
}

/** Weight of the prior of the variances, as so many differences. */
const BELIEF = 4;
const USUAL_VARIANCE = 0.04;
/** Of the prior that the stated noise holds, as so many readings. */
const NOISE_BELIEF = 20;

export function firstDraw({ centre, graph }: SectionPrior): SectionDraw {
  return {
    logResistivity: centre.slice(),
    twin: centre.slice(),
    mean: centre.slice(),
    local: new Float64Array(graph.first.length).fill(1),
    variance: [USUAL_RATIO * USUAL_VARIANCE, USUAL_VARIANCE],
    noise: 1,
  };
}

/** One sweep of Gibbs' sampler: the section, then the local and the common strengths. */
export function sweep(
  form: Linearised,
  prior: SectionPrior,
  { from, ...settings }: SamplerSettings & { readonly from: SectionDraw },
): SectionDraw {
  const { random, heldNoise } = settings;
  const { noise } = from;
  const posterior = gaussianPosterior(
    priorPrecision(prior.graph, faceWeights(prior, from), prior.anchor),
    { directions: form.directions, noise },
  );
  const right = rightSide(form, prior, noise);
  const mean = solvePosterior(posterior, right);
  const away = solvePosterior(posterior, precisionNoise(posterior, random));
  const logResistivity = mean.map((value, c) => value + away[c]!);
  // The other side of the mean is as likely, and cancels the sampling error of means.
  const twin = mean.map((value, c) => value - away[c]!);
  const squares = squaredDifferences(prior, logResistivity);
  const local = localStrengths(prior, { squares, variance: from.variance }, random);
  return {
    ...{ logResistivity, twin, mean, local },
    variance: commonVariances(prior, { squares, local, from }, random),
    noise: heldNoise ?? drawnNoise(form, logResistivity, random),
  };
}

/** How many times the variances of differences that a linear form is thinned for. */
const LOOSER = 4;

/** Factor of the precision of ground that varies more than a draw's strengths have it. */
export function looserPrior(
  prior: SectionPrior,
  { variance: [along, down] }: Pick<SectionDraw, "variance">,
): BandMatrix {
  const variance = [LOOSER * along, LOOSER * down] as const;
  const local = new Float64Array(prior.bond.length).fill(1);
  const weights = faceWeights(prior, { local, variance });
  const precision = priorPrecision(prior.graph, weights, prior.anchor);
  factorBanded(precision);
  return precision;
}

export function faceWeights(
  { graph, bond }: SectionPrior,
  { local, variance }: Pick<SectionDraw, "local" | "variance">,
): Float64Array {
  return local.map((value, f) => {
    return (value * bond[f]!) / (variance[graph.kind[f]!]! * graph.spread[f]!);
  });
}

/** The anchors' part and (Jᵀ W (d − f) + Jᵀ W J m) / noise. */
export function rightSide(
  { slope, known }: Linearised,
  { anchor, centre }: SectionPrior,
  noise: number,
): Float64Array {
  return anchor.map((value, c) => value * centre[c]! + (slope[c]! + known[c]!) / noise);
}

/** Δ² at each face over what the face's shape makes of a variance of 1. */
function squaredDifferences({ graph, bond }: SectionPrior, x: Float64Array): Float64Array {
  return graph.spread.map((spread, f) => {
    return (bond[f]! * (x[graph.second[f]!]! - x[graph.first[f]!]!) ** 2) / spread;
  });
}

function localStrengths(
  { freedom, graph }: SectionPrior,
  { squares, variance }: { readonly squares: Float64Array } & Pick<SectionDraw, "variance">,
  random: Random,
): Float64Array {
  if (freedom === Infinity) return new Float64Array(squares.length).fill(1);
  return squares.map((square, f) => {
    const rate = (freedom + square / variance[graph.kind[f]!]!) / 2;
    return gammaDraw((freedom + 1) / 2, random) / rate;
  });
}

function commonVariances(
  prior: SectionPrior,
  { squares, local, from }: StrengthsGiven,
  random: Random,
): readonly [number, number] {
  const { graph } = prior;
  const sums = [0, 0];
  for (let f = 0; f < squares.length; f++) {
    const kind = graph.kind[f]!;
    sums[kind] = sums[kind]! + local[f]! * squares[f]!;
  }
  const [along, down] = [sums[0]!, sums[1]!];
  const ratio = prior.ratio ?? drawnRatio(prior, { along, from }, random);
  const sum = BELIEF * USUAL_VARIANCE + along / ratio + down;
  const cells = graph.across * graph.down;
  const variance = sum / 2 / gammaDraw((BELIEF + cells) / 2, random);
  return [ratio * variance, variance];
}

interface StrengthsGiven {
  readonly squares: Float64Array;
  readonly local: Float64Array;
  readonly from: SectionDraw;
}

/** Ground lies in layers: the usual ratio of the variances, and the spread of its logarithm. */
const USUAL_RATIO = 0.2;
const RATIO_SPREAD = 1;
const RATIO_STEP = 0.25;

/** A step of Metropolis in the logarithm of the ratio. */
function drawnRatio(
  { determinant }: SectionPrior,
  { along, from }: { readonly along: number; readonly from: SectionDraw },
  random: Random,
): number {
  const [alongBefore, down] = from.variance;
  const now = Math.log(alongBefore / down);
  const next = now + RATIO_STEP * random.normal();
  const density = (log: number) =>
    determinant(log) / 2 -
    along / (2 * down * Math.exp(log)) -
    ((log - Math.log(USUAL_RATIO)) / RATIO_SPREAD) ** 2 / 2;
  const accepted = Math.log(1 - random.uniform()) < density(next) - density(now);
  return Math.exp(accepted ? next : now);
}

function drawnNoise(form: Linearised, logResistivity: Float64Array, random: Random): number {
  const sum = NOISE_BELIEF + Math.max(0, misfitOf(form, logResistivity));
  return sum / 2 / gammaDraw((NOISE_BELIEF + form.count) / 2, random);
}
