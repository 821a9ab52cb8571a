import { lastAtMost } from "../../numerics/functions/linear-between.js";

/** A walk as the course of a coordinate in time. */
export interface Course {
  /** m rows that have a place, in the order of time. */
  readonly rows: Int32Array;
  /** m times, s, never falling. */
  readonly time_s: Float64Array;
}

/** Between readings further apart in time than this the walker may have paused, s. */
const PAUSE_S = 10;

/** The rows of a pass that have both a time and a place. */
export function courseOf(clock_s: Float64Array, chainage_m: Float64Array): Course {
  const rows = [...clock_s.keys()].filter((i) => !Number.isNaN(clock_s[i]! + chainage_m[i]!));
  return { rows: Int32Array.from(rows), time_s: Float64Array.from(rows, (i) => clock_s[i]!) };
}

/**
 * The coordinate that the walk had `lag_s` before each row, m values for the course's rows: between
 * two readings in proportion to time; beyond an end of the walk, and into a pause, onward at the
 * speed of the last step.
 */
export function coordinateBefore(
  { rows, time_s }: Course,
  values: Float64Array,
  lag_s: number,
): Float64Array {
  const last = rows.length - 1;
  const value = (k: number) => values[rows[k]!]!;
  const speed = (from: number, to: number) => {
    const span_s = time_s[to]! - time_s[from]!;
    return span_s > 0 && span_s <= PAUSE_S ? (value(to) - value(from)) / span_s : 0;
  };
  return Float64Array.from(rows, (_, own) => {
    const asked = time_s[own]! - lag_s;
    const k = lastAtMost(time_s, asked, [0, last]);
    const isBetween = k >= 0 && k < last && time_s[k + 1]! - time_s[k]! <= PAUSE_S;
    if (isBetween) return value(k) + speed(k, k + 1) * (asked - time_s[k]!);
    // Into a pause or beyond an end: onward from the edge of the part that the row itself is in.
    const edge = lag_s > 0 ? k + 1 : k;
    const onward =
      lag_s > 0 ? speed(edge, Math.min(edge + 1, last)) : speed(Math.max(0, edge - 1), edge);
    return value(edge) + onward * (asked - time_s[edge]!);
  });
}
