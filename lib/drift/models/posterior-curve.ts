import { firstOf, zipped } from "../../numerics/arrays.js";
import type { Rise } from "../kriging/krige-drift.js";
import { curveOf, type DriftCurve } from "./drift-curve.js";

/** A fitted drift, as far as a curve is drawn from it. */
export interface DriftPosterior {
  /** How much the drift rose from one time to each of others. */
  readonly rises: (from_s: number, to_s: readonly number[]) => readonly Rise[];
  /** Variance that the level gains for each hour by a random walk; 0 without one. */
  readonly perHour: number;
}

/** Knots in each gap between two times of the data, as shares of it: drift bends between them. */
const BETWEEN = [1 / 8, 2 / 8, 3 / 8, 4 / 8, 5 / 8, 6 / 8, 7 / 8];
const JUST_AFTER_S = 1e-3;

/**
 * The posterior mean and standard deviation as a curve.
 *
 * @param times_s times of the data, the reference time first; the curve is constant beyond them
 */
export function posteriorCurve(
  posterior: DriftPosterior,
  times_s: readonly number[],
  steps_s: readonly number[],
): DriftCurve {
  const sorted = [...new Set([...times_s, ...steps_s])].sort((a, b) => a - b);
  const knots = sorted.flatMap((time_s, i) => {
    const after = steps_s.includes(time_s) ? [[time_s, time_s + JUST_AFTER_S] as const] : [];
    const gap_s = (sorted[i + 1] ?? time_s) - time_s;
    const within = gap_s > 0 ? BETWEEN.map((share) => time_s + share * gap_s) : [];
    return [[time_s, time_s] as const, ...after, ...within.map((at_s) => [at_s, at_s] as const)];
  });
  const at_s = knots.map(([, time_s]) => time_s);
  const rises = posterior.rises(firstOf(times_s), at_s);
  return curveOf(
    zipped(knots, rises).map(([[time_s], { mean, sd }]) => [time_s, mean, sd]),
    beyondOf(posterior, [Math.min(...times_s), Math.max(...times_s)]),
  );
}

/** The drift is extrapolated by the slope of its last tenth. */
function beyondOf(
  { rises, perHour }: DriftPosterior,
  [first_s, end_s]: readonly [number, number],
): DriftCurve["beyond"] {
  const last_s = end_s - (end_s - first_s) / 10;
  const [last] = end_s > first_s ? rises(last_s, [end_s]) : [];
  const perSecond = last === undefined ? 0 : last.mean / (end_s - last_s);
  return { perSecond, variancePerSecond: perHour / 3600 };
}
