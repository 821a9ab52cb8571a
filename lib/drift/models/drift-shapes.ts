import type { DriftKind } from "../drift.js";
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
  /** All of them. */
  readonly steps_s: readonly number[];
  /** Those of them that were not declared. */
  readonly own_s: readonly number[];
  readonly parts: readonly Part[];
}

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
/** Size of a step, in the range of the data. */
const JUMP = 0.7;

/** No drift first; the others in sizes from the data's error to their range, evenly in the logarithm. */
export function shapesOf(frame: DriftFrame, { middle, range }: Scale): readonly DriftShape[] {
  const least = LEAST_SIZE * middle;
  const more = Math.max(1, Math.ceil(Math.log(range / least) / Math.log(RATIO)));
  const sizes = Array.from({ length: more + 1 }, (_, k) => least * RATIO ** k);
  const span_h = frame.span_h > 0 ? frame.span_h : 1;
  const line = partOf(frame, straightLine(span_h));
  const bent = (kind: DriftKind, bends: readonly DriftProcess[]) => {
    const parts = bends.map((bend) => partOf(frame, bend));
    return shared(
      kind,
      parts.flatMap((bend) => bentShapes(bend, line, sizes)),
    );
  };
  return [
    { kind: "steady", parts: [], share: SHARES.steady },
    ...shared(
      "straight",
      sizes.map((size) => [{ ...line, size }]),
    ),
    ...bent(
      "warm-up",
      WARM_UPS_H.map((after_h) => warmUp(after_h, span_h)),
    ),
    ...bent("swinging", SWINGS_H.map(swinging)),
    ...bent("wandering", [wandering(span_h)]),
  ];
}

/** Whatever bends may rise on the whole as well: about as much as it bends, or much more. */
function bentShapes(bend: Part, line: Part, sizes: readonly number[]): readonly Part[][] {
  const most = sizes.at(-1)!;
  return sizes.flatMap((size, k) => {
    const rises = k < sizes.length - 2 ? [size, most] : [size];
    return rises.map((rise) => [
      { ...bend, size },
      { ...line, size: rise },
    ]);
  });
}

function shared(kind: DriftKind, shapes: readonly Part[][]): readonly DriftShape[] {
  return shapes.map((parts) => ({ kind, parts, share: SHARES[kind] / shapes.length }));
}

function partOf(frame: DriftFrame, process: DriftProcess): Part {
  return { process, wander: covariances(frame, process), size: 1 };
}

/**
 * None of the possible steps, each by itself, all of them; those declared are in every set. Where there
 * are any, the last set holds nothing, as a declared step may have been none.
 */
export function stepSets(
  frame: DriftFrame,
  { possible_s, declared_s }: StepTimes,
  { range }: Scale,
): readonly StepSet[] {
  const single = possible_s.map((time_s) => [time_s]);
  const sets = [[], ...single, ...(single.length > 1 ? [possible_s] : [])].map((own_s): StepSet => {
    const steps_s = [...declared_s, ...own_s];
    const parts = steps_s.map((time_s) => {
      return { ...partOf(frame, stepping(hours(time_s, frame.start_s))), size: JUMP * range };
    });
    return { steps_s, own_s, parts };
  });
  return declared_s.length > 0 ? [...sets, NOTHING] : sets;
}

const NOTHING: StepSet = Object.freeze({ steps_s: [], own_s: [], parts: [] });
