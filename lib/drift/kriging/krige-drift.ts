import { choleskySolve } from "../../numerics/algebra/cholesky.js";
import { dot } from "../../numerics/algebra/dot.js";
import { zipped } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import type { DriftDatum } from "../checks/drift-datum.js";
import { dataCovariance, type ProcessIncrement, processIncrement } from "./drift-covariance.js";
import { type DriftFrame, driftFrame, termAt } from "./drift-frame.js";
import type { DriftProcess, NamedProcess } from "./drift-process.js";
import { residualProjection } from "./residual-projection.js";
import { type SolvedDrift, solveDrift } from "./solve-drift.js";

/** A process fitted to one channel's data, its rate not chosen but averaged over. */
export interface KrigedDrift {
  readonly frame: DriftFrame & { readonly process: DriftProcess };
  readonly solved: readonly SolvedDrift[];
  /** Posterior weight of each solved rate; they sum to 1. */
  readonly weight: readonly number[];
  /** Posterior mean of the rate: variance per unit of the process's covariance, per h (or h³). */
  readonly rate: number;
  /** Restricted log-likelihood of the best rate, up to a constant of the frame. */
  readonly logLikelihood: number;
}

/** A rate whose log-likelihood is this much below the best has no weight. */
const NEGLIGIBLE = 7;
/** Standard deviations half-way of the span, in median errors of the data: 0, and 0.1 to 100. */
const BRIDGE_SIZES = [0, ...Array.from({ length: 25 }, (_, i) => 0.1 * 1000 ** (i / 24))];

/**
 * Fits a random process about a straight line with steps by universal kriging, which is what a
 * Kalman smoother with a diffuse start gives, solved at once as the data are few. The rate of the
 * process is averaged over, each rate by its restricted likelihood, all sizes half-way having one
 * prior probability.
 *
 * @param data at least one datum, errors above 0
 * @param steps_s times after which the level is free
 * Source: Wahba 1978 (splines as processes); Durbin & Koopman 2012 (smoothing with a diffuse
 * start); Patterson & Thompson 1971 (restricted likelihood).
 */
export function krigeDrift(
  data: readonly DriftDatum[],
  steps_s: readonly number[],
  process: NamedProcess,
): KrigedDrift {
  const frame = { ...trendFrame(data, steps_s), process };
  const covariance = dataCovariance(frame, process);
  const unit = medianError(data) ** 2 / (process.bridgeVariance(frame.span_h) || 1);
  // Without degrees of freedom the data do not determine the rate: the straight line is taken.
  const sizes = data.length > frame.terms.length ? BRIDGE_SIZES : [0];
  const solved = sizes.map((size) => solveDrift(frame, covariance, size * size * unit));
  const best = Math.max(...solved.map(({ logLikelihood }) => logLikelihood));
  const kept = solved.filter((one) => one.logLikelihood > best - NEGLIGIBLE);
  const likelihood = kept.map((one) => Math.exp(one.logLikelihood - best));
  const total = likelihood.reduce((sum, value) => sum + value, 0);
  const weight = likelihood.map((value) => value / total);
  const rate = zipped(kept, weight).reduce((sum, [one, share]) => sum + share * one.rate, 0);
  return { frame, solved: kept, weight, rate, logLikelihood: best };
}

/** A level, a step at each of the times, and a slope. */
export function trendFrame(data: readonly DriftDatum[], steps_s: readonly number[]): DriftFrame {
  const steps = steps_s.map((time_s) => ({ kind: "step", time_s }) as const);
  return driftFrame(data, [{ kind: "level" }, ...steps, { kind: "slope" }]);
}

function medianError(data: readonly DriftDatum[]): number {
  return median(data.map(({ error }) => error));
}

/** Drift between two times, mean and standard deviation. */
export interface Rise {
  readonly mean: number;
  readonly sd: number;
}

/** How much the drift rose from `from_s` to `to_s`; steps count for times after them. */
export function riseBetween(
  { frame, solved, weight }: KrigedDrift,
  from_s: number,
  to_s: number,
): Rise {
  const trend = Float64Array.from(
    frame.terms,
    (term) => termAt(term, to_s, frame) - termAt(term, from_s, frame),
  );
  const increment = processIncrement(frame, from_s, to_s);
  let [mean, square] = [0, 0];
  for (const [one, share] of zipped(solved, weight)) {
    const rise = riseAt(one, trend, increment);
    mean += share * rise.mean;
    square += share * (rise.variance + rise.mean ** 2);
  }
  return { mean, sd: Math.sqrt(Math.max(0, square - mean * mean)) };
}

function riseAt(solved: SolvedDrift, trend: Float64Array, increment: ProcessIncrement) {
  const { rate, root, weighted, precision, estimates, dualWeights } = solved;
  const covariance = increment.crossCovariance.map((value) => rate * value);
  const known = dot(covariance, choleskySolve(root, covariance.length, covariance));
  const open = Float64Array.from(weighted, (column, a) => trend[a]! - dot(column, covariance));
  const unknown = dot(open, choleskySolve(precision, open.length, open));
  return {
    mean: dot(trend, estimates) + dot(covariance, dualWeights),
    variance: Math.max(0, rate * increment.variance - known) + unknown,
  };
}

/** Leave-one-out prediction errors of the data, averaged over the rates. */
export function leaveOneOutOf({ frame, solved, weight }: KrigedDrift): Float64Array {
  const errors = new Float64Array(frame.data.length);
  for (const [one, share] of zipped(solved, weight)) {
    const { leaveOneOut } = residualProjection(one);
    for (let i = 0; i < errors.length; i++) errors[i]! += share * leaveOneOut[i]!;
  }
  return errors;
}

/** Scatter is the simpler hypothesis: a process must exceed its log-likelihood by this much. */
const SIMPLER_BY = 0.7;

/**
 * True where independent scatter of whole visits about a straight line with the same steps, as when
 * coils are set down anew each time, explains the data as well as the process does.
 */
export function explainedByScatter({ frame, logLikelihood }: KrigedDrift): boolean {
  const unit = medianError(frame.data);
  const none = new Float64Array(frame.data.length ** 2);
  const alone = BRIDGE_SIZES.map((size) => {
    const data = frame.data.map((one) => ({ ...one, error: Math.hypot(one.error, size * unit) }));
    return solveDrift({ ...frame, data }, none, 0).logLikelihood;
  });
  return Math.max(...alone) > logLikelihood - SIMPLER_BY;
}
