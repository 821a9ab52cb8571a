import { arrayPlace } from "../readings/array-kind.js";
import type { SectionElectrode, SectionSpread } from "../section-input.js";
import type { LineTarget } from "./line-plan.js";
import type { PlanLineOptions } from "./options.js";

/** Where the electrodes of a planned line stand. */
export interface LineLayout {
  readonly spacing_m: number;
  readonly electrodes: readonly SectionElectrode[];
}

/** Spacings at which cables have take-outs. Common practice. */
const HANDY_M = [0.25, 0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 10];
const MOST = 64;
const LEAST = 16;

/** Electrodes as asked for, or by the rules of thumb that the options state. */
export function lineLayout(target: LineTarget, used: PlanLineOptions): LineLayout {
  const spacing_m = used.spacing_m === "suggested" ? handySpacing(target) : used.spacing_m;
  const length_m = Math.max(9 * target.base_m, target.length_m + 4 * target.base_m);
  const wanted = 4 * Math.ceil((length_m / spacing_m + 1) / 4);
  const suggested = Math.min(MOST, Math.max(LEAST, wanted));
  const count = used.electrodes === "suggested" ? suggested : used.electrodes;
  const electrodes = Array.from({ length: count }, (_, i) => {
    return { x_m: i * spacing_m, elevation_m: 0 };
  });
  return { spacing_m, electrodes };
}

function handySpacing({ length_m, top_m, base_m }: LineTarget): number {
  const thickness = base_m - top_m;
  const most = Math.min(thickness, length_m / 3, Math.max(top_m, thickness / 2));
  return HANDY_M.filter((spacing) => spacing <= most).at(-1) ?? HANDY_M[0] ?? most;
}

export type PlannedArrayName = Exclude<PlanLineOptions["array"], "compared">;

export const ARRAYS: readonly PlannedArrayName[] = ["Wenner", "Schlumberger", "dipole-dipole"];

/** Readings look down to so many times the depth of the target's base. */
const DEEPEST = 2;
/** Dipoles of so many spacings, and so many of their lengths apart. Common practice. */
const DIPOLES = [1, 2, 3];
const APART = [1, 2, 3, 4, 5, 6];

/** Readings of an array on the electrodes that look no deeper than the target asks for. */
export function arraySpreads(
  array: PlannedArrayName,
  { electrodes }: LineLayout,
  { base_m }: LineTarget,
): SectionSpread[] {
  const count = electrodes.length;
  const sizes = array === "Wenner" ? [...electrodes.keys()].slice(1) : DIPOLES;
  const steps = array === "Wenner" ? [1] : APART;
  return sizes
    .flatMap((size) => steps.map((n) => offsetsOf(array, size, n)))
    .flatMap((offsets) => placed(offsets, count))
    .filter((spread) => arrayPlace(spread, electrodes).medianDepth_m <= DEEPEST * base_m);
}

/** Of A, B, M and N from the first electrode of the four. */
function offsetsOf(array: PlannedArrayName, size: number, n: number): SectionSpread {
  if (array === "Wenner") return { a: 0, b: 3 * size, m: size, n: 2 * size };
  if (array === "Schlumberger") {
    return { a: 0, b: (2 * n + 1) * size, m: n * size, n: (n + 1) * size };
  }
  return { a: size, b: 0, m: (n + 1) * size, n: (n + 2) * size };
}

function placed({ a, b, m, n }: SectionSpread, count: number): SectionSpread[] {
  const places = Math.max(0, count - Math.max(a, b, m, n));
  return Array.from({ length: places }, (_, i) => {
    return { a: a + i + 1, b: b + i + 1, m: m + i + 1, n: n + i + 1 };
  });
}

/** Minutes of measuring. */
export function minutesOf(
  readings: number,
  electrodes: number,
  { secondsPerReading, minutesPerElectrode, setUp_min }: PlanLineOptions,
): number {
  return setUp_min + electrodes * minutesPerElectrode + (readings * secondsPerReading) / 60;
}
