import type { Crossing } from "./crossovers.js";
import type { CheckGroup } from "./group-checks.js";

/** One thing that is known of a channel's drift: its level at a time, or how much it rose between. */
export interface DriftDatum {
  readonly time_s: number;
  /** The earlier time of a difference; NaN for a level at the fixed spot. */
  readonly minus_s: number;
  readonly value: number;
  /** Standard error of `value`, above 0. */
  readonly error: number;
}

/** Visits as levels above the first visit's mean, crossings as differences. */
export function dataOf(
  groups: readonly CheckGroup[],
  crossings: readonly Crossing[],
): readonly DriftDatum[] {
  const level = groups[0]?.mean ?? 0;
  return [
    ...groups.map(({ time_s, mean, error }) => {
      return { time_s, minus_s: Number.NaN, value: mean - level, error };
    }),
    ...crossings.map(({ from_s, to_s, rise, error }) => {
      return { time_s: to_s, minus_s: from_s, value: rise, error };
    }),
  ];
}

/** Earliest and latest time that any of the data speaks of. */
export function spanOf(data: readonly DriftDatum[]): readonly [first_s: number, last_s: number] {
  const times = data.flatMap(({ time_s, minus_s }) =>
    Number.isNaN(minus_s) ? [time_s] : [time_s, minus_s],
  );
  return [Math.min(...times), Math.max(...times)];
}
