import type { DriftKind } from "./drift.js";
import {
  type DriftProcess,
  stepping,
  straightLine,
  swinging,
  wandering,
  warmUp,
} from "./drift-process.js";
import { covariances, type DriftFrame, hours } from "./drift-system.js";

/** How large the data and their errors are. */
export interface Scale {
  /** Middle error of the visits; of the crossings where there is no visit. */
  readonly middle: number;
  readonly range: number;
}

/** Times after which the level may have stepped, and those where it is free to. */
export interface StepTimes {
  readonly possible_s: readonly number[];
  readonly declared_s: readonly number[];
}

/** A process, its covariance in the data, and the size it is taken at: a standard deviation. */
export interface Part {
  readonly process: DriftProcess;
  /** n × n, at unit size. */
  readonly wander: Float64Array;
  readonly size: number;
}

/** A kind of slow drift of one size. */
export interface DriftShape {
  readonly kind: DriftKind;
  readonly parts: readonly Part[];
  /** How likely it is beforehand. */
  readonly share: number;
}

/** Steps that are taken for true together. */
export interface StepSet {
  readonly steps_s: readonly number[];
  readonly parts: readonly Part[];
  readonly share: number;
}

export const NOTHING: StepSet = Object.freeze({ steps_s: [], parts: [], share: 1 });

/** How likely each kind is beforehand. */
const SHARES: Readonly<Record<DriftKind, number>> = Object.freeze({
  steady: 0.25,
  straight: 0.25,
  "warm-up": 0.2,
  swinging: 0.2,
  wandering: 0.1,
});
/** Hours in which a warming up gets to 63 %: near enough to each other that none is needed between. */
const WARM_UPS_H = [0.15, 0.3, 0.5, 0.8, 1.3, 2];
/** How long a swinging level keeps, h. */
const SWINGS_H = [0.4, 0.8, 1.6];
/** Least size of a drift worth telling from none, in middle errors, and the ratio to the next size. */
const [LEAST_SIZE, RATIO] = [1.5, 3];
/** How likely it is beforehand that the level steps where it may. */
const STEPS = 0.25;
/** Size of a step, in the range of the data. */
const JUMP = 0.7;

/** No drift first; the others in sizes from the data's error to their range, evenly in the logarithm. */
export function shapesOf(frame: DriftFrame, { middle, range }: Scale): readonly DriftShape[] {
  const least = LEAST_SIZE * middle;
  const more = Math.max(1, Math.ceil(Math.log(range / least) / Math.log(RATIO)));
  const sizes = Array.from({ length: more + 1 }, (_, k) => least * RATIO ** k);
  const span_h = frame.span_h > 0 ? frame.span_h : 1;
  const line = partOf(frame, straightLine(span_h));
  /** Whatever bends may rise on the whole as well. */
  const bent = (kind: DriftKind, bends: readonly DriftProcess[]) =>
    bends.flatMap((bend) => sized(kind, [partOf(frame, bend), line], sizes)).map(sharedBy(bends));
  return [
    { kind: "steady", parts: [], share: SHARES.steady },
    ...sized("straight", [line], sizes),
    ...bent(
      "warm-up",
      WARM_UPS_H.map((after_h) => warmUp(after_h, span_h)),
    ),
    ...bent("swinging", SWINGS_H.map(swinging)),
    ...bent("wandering", [wandering(span_h)]),
  ];
}

function sized(
  kind: DriftKind,
  parts: readonly Part[],
  sizes: readonly number[],
): readonly DriftShape[] {
  const share = SHARES[kind] / sizes.length;
  return sizes.map((size) => ({ kind, parts: parts.map((one) => ({ ...one, size })), share }));
}

function sharedBy({ length }: readonly DriftProcess[]) {
  return (shape: DriftShape): DriftShape => ({ ...shape, share: shape.share / length });
}

function partOf(frame: DriftFrame, process: DriftProcess): Part {
  return { process, wander: covariances(frame, process), size: 1 };
}

/** None of the possible steps, each by itself, all of them; those declared are in every set. */
export function stepSets(
  frame: DriftFrame,
  { possible_s, declared_s }: StepTimes,
  { range }: Scale,
): readonly StepSet[] {
  const single = possible_s.map((time_s) => [time_s]);
  const some = single.length > 1 ? [...single, possible_s] : single;
  const share = some.length > 0 ? STEPS / some.length : 0;
  return [[], ...some].map((own): StepSet => {
    const steps_s = [...declared_s, ...own];
    const parts = steps_s.map((time_s) => {
      return { ...partOf(frame, stepping(hours(time_s, frame.start_s))), size: JUMP * range };
    });
    return { steps_s, parts, share: own.length > 0 ? share : 1 - share * some.length };
  });
}
