import { type DriftFrame, hours } from "../kriging/drift-frame.js";
import { stepping } from "../kriging/drift-process.js";
import { type Component, componentOf, type Scale } from "./drift-shapes.js";

/** Times after which the level may have stepped, and those where it was declared to. */
export interface StepTimes {
  readonly possible_s: readonly number[];
  readonly declared_s: readonly number[];
}

/** Steps that occur together in a hypothesis. */
export interface StepSet {
  /** All of them. */
  readonly steps_s: readonly number[];
  /** Those of them that were not declared. */
  readonly own_s: readonly number[];
  readonly components: readonly Component[];
}

/** Standard deviation of a step, in the range of the data. */
const STEP_SIZE = 0.7;

/**
 * None of the possible steps, each by itself, all of them; those declared are in every set. Where
 * there are any, the last set is empty, as a declared step may have been none.
 */
export function stepSets(
  frame: DriftFrame,
  { possible_s, declared_s }: StepTimes,
  { range }: Scale,
): readonly StepSet[] {
  const single = possible_s.map((time_s) => [time_s]);
  const all = single.length > 1 ? [possible_s] : [];
  const sets = [[], ...single, ...all].map((own_s): StepSet => {
    const steps_s = [...declared_s, ...own_s];
    const components = steps_s.map((time_s) => {
      const process = stepping(hours(time_s, frame.start_s));
      return { ...componentOf(frame, process), size: STEP_SIZE * range };
    });
    return { steps_s, own_s, components };
  });
  return declared_s.length > 0 ? [...sets, EMPTY] : sets;
}

const EMPTY: StepSet = Object.freeze({ steps_s: [], own_s: [], components: [] });
