import { firstOf } from "../../numerics/arrays.js";
import type { CheckVisit } from "../checks/visits.js";

export interface DriftRate {
  /** Slope, unit per second; NaN where no stretch holds two visits. */
  readonly perSecond: number;
  /** Standard error of the slope, widened where the visits scatter more than their errors. */
  readonly error: number;
}

/**
 * The slope that all stretches between level breaks share, each stretch with a level of its own:
 * weighted least squares with weights 1 / error².
 *
 * @param breaks indices of visits after which the level is free, such as at steps
 */
export function driftRate(visits: readonly CheckVisit[], breaks: ReadonlySet<number>): DriftRate {
  const stretches = splitAfter(visits, breaks).map(centred);
  const over = (of: (one: Centred) => number) =>
    sum(stretches.map((stretch) => sum(stretch.map(of))));
  const square = over(({ w, t }) => w * t ** 2);
  if (!(square > 0)) return { perSecond: Number.NaN, error: Number.NaN };
  const perSecond = over(({ w, t, off }) => w * t * off) / square;
  const freedom = visits.length - stretches.length - 1;
  const misfit = over(({ w, t, off }) => w * (off - perSecond * t) ** 2);
  const widening = freedom > 0 ? Math.max(1, misfit / freedom) : 1;
  return { perSecond, error: Math.sqrt(widening / square) };
}

function splitAfter(
  visits: readonly CheckVisit[],
  breaks: ReadonlySet<number>,
): readonly CheckVisit[][] {
  const stretches: CheckVisit[][] = [[]];
  for (const [i, visit] of visits.entries()) {
    stretches.at(-1)?.push(visit);
    if (breaks.has(i)) stretches.push([]);
  }
  return stretches.filter((stretch) => stretch.length > 0);
}

/** A visit of a stretch: its weight, and its time and level less their weighted means. */
interface Centred {
  readonly w: number;
  readonly t: number;
  readonly off: number;
}

function centred(stretch: readonly CheckVisit[]): readonly Centred[] {
  const origin = firstOf(stretch).time_s;
  const visits = stretch.map(({ time_s, mean, error }) => {
    return { w: error > 0 ? 1 / error ** 2 : 1, t: time_s - origin, mean };
  });
  const total = sum(visits.map(({ w }) => w));
  const time = sum(visits.map(({ w, t }) => t * w)) / total;
  const level = sum(visits.map(({ w, mean }) => mean * w)) / total;
  return visits.map(({ w, t, mean }) => ({ w, t: t - time, off: mean - level }));
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
