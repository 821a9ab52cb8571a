import { choleskyFactor, choleskySolve } from "../../numerics/cholesky.js";
import { type DriftDatum, spanOf } from "../checks/drift-datum.js";
import type { DriftProcess } from "./drift-process.js";

/** Data of one channel, and what is unknown in them. */
export interface DriftFrame {
  readonly data: readonly DriftDatum[];
  readonly start_s: number;
  readonly span_h: number;
  /** The level at the spot, the slope, and the size of each step, as far as the data tell them. */
  readonly unknowns: readonly Unknown[];
  /** For each unknown, its part in each of the n data. */
  readonly design: readonly Float64Array[];
}

/** The same made ready for a process: how the data hang together. */
export interface DriftSystem extends DriftFrame {
  readonly process: DriftProcess;
  /** n × n covariance of the process in the data, at unit rate. */
  readonly wander: Float64Array;
}

export type Unknown =
  | { readonly kind: "level" }
  | { readonly kind: "slope" }
  | { readonly kind: "step"; readonly time_s: number };

const HOUR_S = 3600;
/** An unknown adds to the design where this share of it at least is not in the others. */
const OWN_SHARE = 1e-8;

export function driftSystem(
  data: readonly DriftDatum[],
  steps_s: readonly number[],
  process: DriftProcess,
): DriftSystem {
  const steps = steps_s.map((time_s) => ({ kind: "step", time_s }) as const);
  const frame = driftFrame(data, [{ kind: "level" }, ...steps, { kind: "slope" }]);
  return { ...frame, process, wander: covariances(frame, process) };
}

/** @param wished what is unknown, as far as the data tell it; earlier ones first */
export function driftFrame(data: readonly DriftDatum[], wished: readonly Unknown[]): DriftFrame {
  const [start_s, end_s] = spanOf(data);
  const place = { start_s, span_h: (end_s - start_s) / HOUR_S };
  const told = independent(wished.map((one) => [one, columnOf(one, data, place)] as const));
  const [unknowns, design] = [told.map(([one]) => one), told.map(([, column]) => column)];
  return { data, ...place, unknowns, design };
}

/** The part of an unknown in the drift at one time. */
export function partAt(
  one: Unknown,
  time_s: number,
  place: { readonly start_s: number; readonly span_h: number },
): number {
  if (one.kind === "level") return 0;
  if (one.kind === "step") return time_s > one.time_s ? 1 : 0;
  return hours(time_s, place.start_s) / (place.span_h > 0 ? place.span_h : 1);
}

export function hours(time_s: number, start_s: number): number {
  return (time_s - start_s) / HOUR_S;
}

/** Covariance of the wander at one time with that in a datum, at unit rate. */
export function wanderWith(
  { process, start_s }: Pick<DriftSystem, "process" | "start_s">,
  time_s: number,
  datum: DriftDatum,
): number {
  const at = hours(time_s, start_s);
  const own = process.covariance(at, hours(datum.time_s, start_s));
  if (Number.isNaN(datum.minus_s)) return own;
  return own - process.covariance(at, hours(datum.minus_s, start_s));
}

function columnOf(
  one: Unknown,
  data: readonly DriftDatum[],
  place: { readonly start_s: number; readonly span_h: number },
): Float64Array {
  return Float64Array.from(data, ({ time_s, minus_s }) => {
    if (one.kind === "level") return Number.isNaN(minus_s) ? 1 : 0;
    return partAt(one, time_s, place) - (Number.isNaN(minus_s) ? 0 : partAt(one, minus_s, place));
  });
}

type Column = readonly [Unknown, Float64Array];

/** The unknowns that the data can tell apart, earlier ones first (Gram and Schmidt). */
function independent(columns: readonly Column[]): readonly Column[] {
  const kept: Column[] = [];
  const basis: Float64Array[] = [];
  for (const [one, column] of columns) {
    const rest = Float64Array.from(column);
    for (const axis of basis) {
      const along = dot(axis, rest);
      for (let i = 0; i < rest.length; i++) rest[i]! -= along * axis[i]!;
    }
    const left = dot(rest, rest);
    if (!(left > OWN_SHARE * dot(column, column))) continue;
    basis.push(rest.map((value) => value / Math.sqrt(left)));
    kept.push([one, column]);
  }
  return kept;
}

/** n × n covariance of a process in the data. */
export function covariances(
  { data, start_s }: Pick<DriftFrame, "data" | "start_s">,
  { covariance }: DriftProcess,
): Float64Array {
  const n = data.length;
  const ends = data.map(({ time_s, minus_s }) => {
    const later = [hours(time_s, start_s), 1] as const;
    return Number.isNaN(minus_s) ? [later] : [later, [hours(minus_s, start_s), -1] as const];
  });
  const result = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      for (const [s, a] of ends[i]!) {
        for (const [t, b] of ends[j]!) result[i * n + j]! += a * b * covariance(s, t);
      }
    }
  }
  return result;
}

/** A system solved for one rate of the process (variance per unit of its covariance). */
export interface SolvedDrift {
  readonly rate: number;
  /** Factor of the data's covariance. */
  readonly root: Float64Array;
  /** For each unknown, K⁻¹ times its column. */
  readonly weighted: readonly Float64Array[];
  /** Factor of the unknowns' precision. */
  readonly precision: Float64Array;
  readonly estimates: Float64Array;
  /** K⁻¹ (y − X β). */
  readonly pull: Float64Array;
  /** Restricted log-likelihood (Patterson & Thompson 1971), up to a constant. */
  readonly logLikelihood: number;
}

export function solveDrift(
  { data, design, wander }: Pick<DriftSystem, "data" | "design" | "wander">,
  rate: number,
): SolvedDrift {
  const [n, p] = [data.length, design.length];
  const covariance = wander.map((value) => rate * value);
  for (const [i, { error }] of data.entries()) covariance[i * n + i]! += error * error;
  const root = choleskyFactor(covariance, n);
  const solve = (right: Float64Array) => choleskySolve(root, n, right);
  const weighted = design.map(solve);
  const normal = new Float64Array(p * p);
  for (let a = 0; a < p; a++) {
    for (let b = 0; b < p; b++) normal[a * p + b] = dot(design[a]!, weighted[b]!);
  }
  const precision = choleskyFactor(normal, p);
  const y = Float64Array.from(data, ({ value }) => value);
  const right = Float64Array.from(weighted, (column) => dot(column, y));
  const estimates = choleskySolve(precision, p, right);
  const misfit = y.map((value, i) =>
    design.reduce((left, column, a) => left - column[i]! * estimates[a]!, value),
  );
  const pull = solve(misfit);
  const logLikelihood = -logDiagonal(root, n) - logDiagonal(precision, p) - dot(misfit, pull) / 2;
  return { rate, root, weighted, precision, estimates, pull, logLikelihood };
}

function logDiagonal(factor: Float64Array, m: number): number {
  let sum = 0;
  for (let i = 0; i < m; i++) sum += Math.log(factor[i * m + i]!);
  return sum;
}

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
