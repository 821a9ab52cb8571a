import { choleskyFactor, choleskyLogDeterminant, forwardSolve } from "../../numerics/cholesky.js";
import { median } from "../../numerics/robust.js";
import type { DriftDatum } from "../checks/drift-datum.js";
import type { DriftKind } from "../drift.js";
import {
  type Part,
  type Scale,
  type StepSet,
  type StepTimes,
  shapesOf,
  stepSets,
} from "./drift-shapes.js";
import { type DriftFrame, dot, driftFrame } from "./drift-system.js";

/** One thing that may have happened to a channel: a kind of drift of a given size, and a scatter. */
export interface DriftStory {
  readonly kind: DriftKind;
  /** Index of the step set that it takes for true. */
  readonly set: number;
  readonly steps_s: readonly number[];
  /** What its wander is made of. */
  readonly parts: readonly Part[];
  /** n × n covariance of the wander in the data. */
  readonly wander: Float64Array;
  /** Index of the scatter of whole visits in `SCATTERS`. */
  readonly scatter: number;
  /** The data with that scatter in their errors; the level at the spot is unknown. */
  readonly frame: DriftFrame;
  /** How likely its kind and size are beforehand. */
  readonly share: number;
  /** Restricted log-likelihood, up to a constant of the data. */
  readonly logLikelihood: number;
}

/** All that may have happened to one channel. */
export interface DriftStories {
  readonly stories: readonly DriftStory[];
  readonly sets: readonly StepSet[];
  /** Times at which the level may have stepped, those declared left out. */
  readonly possible_s: readonly number[];
}

/** Where nothing can be told. */
export const NO_STORIES: DriftStories = Object.freeze({ stories: [], sets: [], possible_s: [] });

/** Scatter of whole visits, as when coils are set down anew, in middle errors of the visits' means. */
export const SCATTERS: readonly number[] = [0, 0.7, 1.4, 2.8, 5.6];
/** How common each is beforehand: a large one is rare. */
export const SCATTER_SHARES: readonly number[] = [0.3, 0.3, 0.2, 0.13, 0.07];
/** Errors below this share of the range of the data are lost to rounding. */
const LEAST_ERROR = 1e-4;

/**
 * All that may have happened, each with how likely it is: no drift, a straight one, one that warms up,
 * swings or wanders, of many sizes, with more or less scatter of whole visits, and with or without
 * steps.
 *
 * @param data two or more, errors above 0
 */
export function driftStories(data: readonly DriftDatum[], steps: StepTimes): DriftStories {
  const { range, middle } = scaleOf(data);
  const least = LEAST_ERROR * range;
  const known = data.map((one) => ({ ...one, error: Math.max(one.error, least) }));
  const scale = { range, middle: Math.max(middle, least) };
  const frame = driftFrame(known, [{ kind: "level" }]);
  const frames = scattered(known, scale.middle).map((visits) => ({ ...frame, data: visits }));
  const sets = stepSets(frame, steps, scale);
  const stories = shapesOf(frame, scale).flatMap((shape) =>
    sets.flatMap(({ steps_s, parts }, set) => {
      const isFree = steps_s.length === 0 && steps.declared_s.length > 0;
      if (isFree && shape.kind !== "steady") return [];
      const told = { kind: shape.kind, share: shape.share, set, steps_s };
      return storiesOf({ ...told, parts: [...shape.parts, ...parts] }, frames);
    }),
  );
  return { stories, sets, possible_s: steps.possible_s };
}

function storiesOf(
  told: Pick<DriftStory, "kind" | "share" | "set" | "steps_s" | "parts">,
  frames: readonly DriftFrame[],
): readonly DriftStory[] {
  const wander = wanderOf(told.parts, frames[0]!.data.length);
  return frames.map((frame, scatter) => {
    return { ...told, wander, scatter, frame, logLikelihood: likelihoodOf(frame, wander) };
  });
}

/** What `solveDrift` gives as well, for the level alone as unknown, or nothing. */
function likelihoodOf({ data, design }: DriftFrame, wander: Float64Array): number {
  const n = data.length;
  const covariance = wander.slice();
  const y = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    y[i] = data[i]!.value;
    covariance[i * n + i]! += data[i]!.error ** 2;
  }
  const root = choleskyFactor(covariance, n);
  const values = forwardSolve(root, n, y);
  const fit = dot(values, values);
  const half = choleskyLogDeterminant(root, n) / 2;
  const [level] = design;
  if (level === undefined) return -half - fit / 2;
  const unit = forwardSolve(root, n, level);
  const precision = dot(unit, unit);
  return -half - Math.log(precision) / 2 - (fit - dot(unit, values) ** 2 / precision) / 2;
}

function wanderOf(parts: readonly Part[], n: number): Float64Array {
  const total = new Float64Array(n * n);
  for (const { wander, size } of parts) {
    const square = size * size;
    for (let i = 0; i < total.length; i++) total[i]! += square * wander[i]!;
  }
  return total;
}

const isVisit = ({ minus_s }: DriftDatum) => Number.isNaN(minus_s);

function scaleOf(data: readonly DriftDatum[]): Scale {
  const visits = data.filter(isVisit);
  const levels = visits.map(({ value }) => value);
  const rises = data.filter((one) => !isVisit(one)).map(({ value }) => Math.abs(value));
  const spread = levels.length > 0 ? Math.max(...levels) - Math.min(...levels) : 0;
  const middle = median((visits.length > 0 ? visits : data).map(({ error }) => error));
  return { middle, range: Math.max(spread, ...rises, 3 * middle) };
}

/** Scatter belongs to visits to the spot; crossings are of the same walk. */
function scattered(data: readonly DriftDatum[], middle: number) {
  const scatters = data.some(isVisit) ? SCATTERS : [0];
  return scatters.map((size) =>
    data.map((one) =>
      isVisit(one) ? { ...one, error: Math.hypot(one.error, size * middle) } : one,
    ),
  );
}
