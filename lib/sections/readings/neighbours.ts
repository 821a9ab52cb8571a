import { groupedBy } from "../../numerics/arrays.js";
import { madScale, median } from "../../numerics/statistics/robust.js";
import type { MeasuredReading } from "./measured.js";

/** How far readings lie from their neighbours of the same array and size. */
export interface Apartness {
  /** ln apparent resistivity less the median of the two neighbours either side; NaN where unknown. */
  readonly difference: Float64Array;
  /** Of the differences, robustly. */
  readonly scale: number;
}

const LEAST_SCALE = 0.02;

/** `logApparent` is NaN where a reading is not to be looked at. */
export function apartness(
  readings: readonly MeasuredReading[],
  logApparent: Float64Array,
): Apartness {
  const difference = new Float64Array(readings.length).fill(Number.NaN);
  const known = readings.map((_, i) => i).filter((i) => Number.isFinite(logApparent[i]!));
  for (const group of groupedBy(known, (i) => readings[i]!.group).values()) {
    const sorted = [...group].sort((p, q) => readings[p]!.x_m - readings[q]!.x_m);
    sorted.forEach((i, at) => {
      const beside = [...sorted.slice(Math.max(0, at - 2), at), ...sorted.slice(at + 1, at + 3)];
      if (beside.length < 2) return;
      difference[i] = logApparent[i]! - median(beside.map((j) => logApparent[j]!));
    });
  }
  return { difference, scale: Math.max(LEAST_SCALE, madScale(difference)) };
}

/** A reading stands apart beyond so many scales, and never below a factor of two. */
const SCALES = 8;

/** True where a reading can only be wrong beside its neighbours. */
export function standsApart({ difference, scale }: Apartness, index: number): boolean {
  return Math.abs(difference[index]!) > Math.max(Math.LN2, SCALES * scale);
}
