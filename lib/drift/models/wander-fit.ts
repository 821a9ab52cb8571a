import { choleskySolve } from "../../numerics/cholesky.js";
import { median } from "../../numerics/robust.js";
import type { DriftDatum } from "../checks/drift-datum.js";
import { missesBy, projectionOf } from "../checks/projection.js";
import type { WanderProcess } from "./drift-process.js";
import {
  type DriftSystem,
  dot,
  driftSystem,
  partAt,
  type SolvedDrift,
  solveDrift,
  wanderWith,
} from "./drift-system.js";

/** A process fitted to one channel's data, its rate not chosen but averaged over. */
export interface WanderFit {
  readonly system: DriftSystem;
  readonly solved: readonly SolvedDrift[];
  /** Posterior weight of each solved rate; they sum to 1. */
  readonly weight: readonly number[];
  /** Mean rate: what the wander's variance gains with its unit covariance, per h (or h³). */
  readonly rate: number;
  /** Restricted log-likelihood of the likeliest rate, up to a constant of the system. */
  readonly logLikelihood: number;
}

/** A rate this much less likely than the best, in log-likelihood, does not count. */
const UNLIKELY = 7;
/** Sizes of the bend half-way, in middle errors of the data: none, and 0.1 to 100. */
const BENDS = [0, ...Array.from({ length: 25 }, (_, i) => 0.1 * 1000 ** (i / 24))];

/**
 * Fits a drift that wanders about a straight line with steps: universal kriging of the data, which is
 * what a Kalman smoother with a diffuse start gives, solved at once as the data are few. The rate of
 * the wander is averaged over, each rate by its restricted likelihood, all sizes of bend being as
 * likely beforehand.
 *
 * @param data at least one datum, errors above 0
 * @param steps_s times after which the level is free
 * Source: Wahba 1978 (splines as processes); Durbin & Koopman 2012 (smoothing with a diffuse start);
 * Patterson & Thompson 1971 (restricted likelihood).
 */
export function fitWander(
  data: readonly DriftDatum[],
  steps_s: readonly number[],
  process: WanderProcess,
): WanderFit {
  const system = driftSystem(data, steps_s, process);
  const unit = median(data.map(({ error }) => error)) ** 2 / (process.bend(system.span_h) || 1);
  // With no datum to spare, nothing tells the rate: the straight line is taken.
  const bends = data.length > system.unknowns.length ? BENDS : [0];
  const solved = bends.map((bend) => solveDrift(system, bend * bend * unit));
  const best = Math.max(...solved.map(({ logLikelihood }) => logLikelihood));
  const likely = solved.filter((one) => one.logLikelihood > best - UNLIKELY);
  const likelihood = likely.map((one) => Math.exp(one.logLikelihood - best));
  const total = likelihood.reduce((sum, value) => sum + value, 0);
  const weight = likelihood.map((value) => value / total);
  const rate = likely.reduce((sum, one, k) => sum + weight[k]! * one.rate, 0);
  return { system, solved: likely, weight, rate, logLikelihood: best };
}

/** Drift between two times, mean and standard deviation. */
export interface Rise {
  readonly mean: number;
  readonly sd: number;
}

/** How much the drift rose from `from_s` to `to_s`; steps count for times after them. */
export function riseBetween(fit: WanderFit, from_s: number, to_s: number): Rise {
  const { system, solved, weight } = fit;
  const parts = Float64Array.from(
    system.unknowns,
    (one) => partAt(one, to_s, system) - partAt(one, from_s, system),
  );
  const wandered = wanderBetween(system, from_s, to_s);
  let [mean, square] = [0, 0];
  for (const [k, one] of solved.entries()) {
    const rise = riseAt(one, parts, wandered);
    mean += weight[k]! * rise.mean;
    square += weight[k]! * (rise.variance + rise.mean ** 2);
  }
  return { mean, sd: Math.sqrt(Math.max(0, square - mean * mean)) };
}

function riseAt(one: SolvedDrift, parts: Float64Array, { link, own }: Wandered) {
  const { rate, root, weighted, precision, estimates, pull } = one;
  const pulled = link.map((value) => rate * value);
  const known = dot(pulled, choleskySolve(root, pulled.length, pulled));
  const open = Float64Array.from(weighted, (column, a) => parts[a]! - dot(column, pulled));
  const unknown = dot(open, choleskySolve(precision, open.length, open));
  return {
    mean: dot(parts, estimates) + dot(pulled, pull),
    variance: Math.max(0, rate * own - known) + unknown,
  };
}

/** What a process does between two times, at unit rate. */
export interface Wandered {
  /** Its covariance with that in each datum. */
  readonly link: Float64Array;
  readonly own: number;
}

export function wanderBetween(
  system: Pick<DriftSystem, "data" | "start_s" | "process">,
  from_s: number,
  to_s: number,
): Wandered {
  const link = new Float64Array(system.data.length);
  for (const [i, datum] of system.data.entries()) {
    link[i] = wanderWith(system, to_s, datum) - wanderWith(system, from_s, datum);
  }
  const level = (time_s: number): DriftDatum => {
    return { time_s, minus_s: Number.NaN, value: 0, error: 0 };
  };
  const [from, to] = [level(from_s), level(to_s)];
  const between = wanderWith(system, from_s, to);
  const own = wanderWith(system, to_s, to) + wanderWith(system, from_s, from) - 2 * between;
  return { link, own };
}

/** By how much each datum misses what all others foretell, averaged over the rates. */
export function missesOf({ system, solved, weight }: WanderFit): Float64Array {
  const misses = new Float64Array(system.data.length);
  for (const [k, one] of solved.entries()) {
    const own = missesBy(one, projectionOf(one));
    for (let i = 0; i < misses.length; i++) misses[i]! += weight[k]! * own[i]!;
  }
  return misses;
}

/** Scatter is the simpler story: a wander must be this much likelier, in log-likelihood. */
const AS_GOOD = 0.7;

/**
 * True where visits that scatter by themselves, about a straight line with the same steps, explain
 * the data as well as any wander does: coils set down a little differently each time.
 */
export function scattersRather({ system, logLikelihood }: WanderFit): boolean {
  const unit = median(system.data.map(({ error }) => error));
  const alone = BENDS.map((size) => {
    const data = system.data.map((one) => ({ ...one, error: Math.hypot(one.error, size * unit) }));
    return solveDrift({ ...system, data }, 0).logLikelihood;
  });
  return Math.max(...alone) > logLikelihood - AS_GOOD;
}
