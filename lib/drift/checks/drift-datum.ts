import type { Crossover } from "./crossovers.js";
import type { CheckVisit } from "./visits.js";

/** One observation of a channel's drift: its level at a time, or its rise between two. */
export interface DriftDatum {
  readonly time_s: number;
  /** The earlier time of a difference; NaN for a level at the fixed spot. */
  readonly minus_s: number;
  readonly value: number;
  /** Standard error of `value`, above 0. */
  readonly error: number;
}

/** True for a level at the fixed spot, false for a difference between two times. */
export function isLevel({ minus_s }: Pick<DriftDatum, "minus_s">): boolean {
  return Number.isNaN(minus_s);
}

/** Visits as levels above the first visit's mean, crossovers as differences. */
export function dataOf(
  visits: readonly CheckVisit[],
  crossovers: readonly Crossover[],
): readonly DriftDatum[] {
  const level = visits[0]?.mean ?? 0;
  return [
    ...visits.map(({ time_s, mean, error }) => {
      return { time_s, minus_s: Number.NaN, value: mean - level, error };
    }),
    ...crossovers.map(({ from_s, to_s, rise, error }) => {
      return { time_s: to_s, minus_s: from_s, value: rise, error };
    }),
  ];
}

/** Earliest and latest time of the data. */
export function spanOf(data: readonly DriftDatum[]): readonly [first_s: number, last_s: number] {
  const times = data.flatMap((one) => (isLevel(one) ? [one.time_s] : [one.time_s, one.minus_s]));
  return [Math.min(...times), Math.max(...times)];
}

/** True where every error is known and two times at least are compared: a process can be fitted. */
export function determineProcess(data: readonly DriftDatum[]): boolean {
  const isCompared = data.length > 1 || data.some((one) => !isLevel(one));
  return isCompared && data.every(({ error }) => error > 0);
}
