import {
  choleskyFactor,
  choleskyLogDeterminant,
  forwardSolve,
} from "../../numerics/algebra/cholesky.js";
import { dot } from "../../numerics/algebra/dot.js";
import type { DriftDatum } from "../checks/drift-datum.js";
import type { DriftKind } from "../drift.js";
import { type DriftFrame, driftFrame } from "../kriging/drift-frame.js";
import { type Component, shapesOf } from "./drift-shapes.js";
import { type StepSet, type StepTimes, stepSets } from "./step-sets.js";
import { scaleOf, scattered, setDownUnit } from "./visit-scatter.js";

/** A hypothesis on a channel: a kind of drift of one size, steps, and a scatter of its visits. */
export interface DriftHypothesis {
  readonly kind: DriftKind;
  /** Index of its step set. */
  readonly set: number;
  readonly steps_s: readonly number[];
  /** The independent processes that its drift is the sum of. */
  readonly components: readonly Component[];
  /** n × n covariance of the drift in the data. */
  readonly covariance: Float64Array;
  /** Index of the scatter of whole visits in `SCATTERS`. */
  readonly scatter: number;
  /** The data with that scatter in their errors; the level at the spot is unknown. */
  readonly frame: DriftFrame;
  /** Prior probability of its kind and size. */
  readonly prior: number;
  /** Restricted log-likelihood, up to a constant of the data. */
  readonly logLikelihood: number;
}

/** All hypotheses on one channel. */
export interface DriftHypotheses {
  readonly all: readonly DriftHypothesis[];
  readonly sets: readonly StepSet[];
  /** Times at which the level may have stepped, those declared left out. */
  readonly possible_s: readonly number[];
  /** Unit of `SCATTERS`, channel's unit. */
  readonly scatterUnit: number;
}

/** Of a channel whose data do not determine a drift. */
export const NO_HYPOTHESES: DriftHypotheses = Object.freeze({
  all: [],
  sets: [],
  possible_s: [],
  scatterUnit: 0,
});

/** Errors below this share of the range of the data are lost to rounding. */
const LEAST_ERROR = 1e-4;

/** What is known of the checks beside them. */
export interface CheckSizes {
  /** Standard deviation of one repeat at the spot; NaN where it is not known, default. */
  readonly repeatScatter?: number;
  /** Size of a drift that no check tells; default 0. */
  readonly unseen?: number;
}

/**
 * The hypotheses with their priors and likelihoods: no drift, a straight one, one that warms up,
 * swings or wanders, of many sizes, with more or less scatter of whole visits, and with or without
 * steps.
 *
 * @param data two or more, errors above 0
 */
export function driftHypotheses(
  data: readonly DriftDatum[],
  steps: StepTimes,
  { repeatScatter = Number.NaN, unseen = 0 }: CheckSizes = {},
): DriftHypotheses {
  const { range: seen, medianError } = scaleOf(data);
  // Two times do not tell how large a drift is: one that comes and goes between them is not seen.
  const range = data.length < 3 ? Math.max(seen, unseen) : seen;
  const least = LEAST_ERROR * range;
  const known = data.map((one) => ({ ...one, error: Math.max(one.error, least) }));
  const scale = { range, medianError: Math.max(medianError, least) };
  const frame = driftFrame(known, [{ kind: "level" }]);
  const unit = setDownUnit(scale.medianError, repeatScatter);
  const frames = scattered(known, unit).map((visits) => ({ ...frame, data: visits }));
  const sets = stepSets(frame, steps, scale);
  const all = shapesOf(frame, scale).flatMap(({ kind, prior, components }) =>
    sets.flatMap((own, set) => {
      const isEmpty = own.steps_s.length === 0 && steps.declared_s.length > 0;
      if (isEmpty && kind !== "steady") return [];
      const sum = [...components, ...own.components];
      return withScatters({ kind, prior, set, steps_s: own.steps_s, components: sum }, frames);
    }),
  );
  return { all, sets, possible_s: steps.possible_s, scatterUnit: unit };
}

function withScatters(
  hypothesis: Omit<DriftHypothesis, "covariance" | "scatter" | "frame" | "logLikelihood">,
  frames: readonly DriftFrame[],
): readonly DriftHypothesis[] {
  const covariance = covarianceOf(hypothesis.components, frames[0]?.data.length ?? 0);
  return frames.map((frame, scatter) => {
    const logLikelihood = restrictedLikelihood(frame, covariance);
    return { ...hypothesis, covariance, scatter, frame, logLikelihood };
  });
}

/** What `solveDrift` gives as well, for a trend of the level alone or of nothing. */
function restrictedLikelihood({ data, design }: DriftFrame, drift: Float64Array): number {
  const n = data.length;
  const covariance = drift.slice();
  const y = new Float64Array(n);
  for (const [i, { value, error }] of data.entries()) {
    y[i] = value;
    covariance[i * n + i]! += error ** 2;
  }
  const root = choleskyFactor(covariance, n, covariance);
  const values = forwardSolve(root, n, y, y);
  const fit = dot(values, values);
  const half = choleskyLogDeterminant(root, n) / 2;
  const [level] = design;
  if (level === undefined) return -half - fit / 2;
  const unit = forwardSolve(root, n, level);
  const precision = dot(unit, unit);
  return -half - Math.log(precision) / 2 - (fit - dot(unit, values) ** 2 / precision) / 2;
}

function covarianceOf(components: readonly Component[], n: number): Float64Array {
  const total = new Float64Array(n * n);
  for (const { covariance, size } of components) {
    const square = size * size;
    for (let i = 0; i < total.length; i++) total[i]! += square * covariance[i]!;
  }
  return total;
}
