import { median } from "../../numerics/statistics/robust.js";
import { type DriftDatum, isLevel } from "../checks/drift-datum.js";
import type { Scale } from "./drift-shapes.js";

/** Scatter of whole visits, as when coils are set down anew, in `scatterUnit`. */
export const SCATTERS: readonly number[] = [0, 0.7, 1.4, 2.8, 5.6];
/** Prior probability of each: a large one is rare. */
export const SCATTER_PRIOR: readonly number[] = [0.3, 0.3, 0.2, 0.13, 0.07];
/** Repeats that a visit has at least where drift is taken seriously (common practice). */
const USUAL_REPEATS = 6;

export function scaleOf(data: readonly DriftDatum[]): Scale {
  const visits = data.filter(isLevel);
  const levels = visits.map(({ value }) => value);
  const rises = data.filter((one) => !isLevel(one)).map(({ value }) => Math.abs(value));
  const spread = levels.length > 0 ? Math.max(...levels) - Math.min(...levels) : 0;
  const medianError = median((visits.length > 0 ? visits : data).map(({ error }) => error));
  return { medianError, range: Math.max(spread, ...rises, 3 * medianError) };
}

/**
 * How differently coils are set down has nothing to do with how often they are read there: where a
 * visit has fewer repeats than usual, the unit is the error that the usual number would have.
 */
export function setDownUnit(medianError: number, repeatScatter: number): number {
  const usual = repeatScatter / Math.sqrt(USUAL_REPEATS);
  return usual < medianError ? usual : medianError;
}

/** The data with each scatter; it belongs to visits to the spot, as crossovers are of one walk. */
export function scattered(data: readonly DriftDatum[], unit: number) {
  const scatters = data.some(isLevel) ? SCATTERS : [0];
  return scatters.map((size) =>
    data.map((one) => (isLevel(one) ? { ...one, error: Math.hypot(one.error, size * unit) } : one)),
  );
}
