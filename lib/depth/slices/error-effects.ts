import { itemAt, valueAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import type { LineReadings } from "../data/line-readings.js";
import type { ErrorEffects } from "../depth-slices.js";
import type { Resolution } from "./resolution.js";

type Response = Pick<Resolution, "byReading" | "byHeight">;
type Errors = Pick<LineReadings, "errors" | "walk" | "walks" | "heightSd_m">;

/**
 * How far each error of the instrument moves a slice's mean where it is off by its stated standard
 * deviation, log10: w K δ of the slice's weights w by layer, the layers' response to the readings K
 * and the errors δ, median over the columns that K is known at. Channels err by themselves in gain,
 * zero and drift, those of one walk together in height; their parts add by their squares.
 */
export function errorEffects(
  { byReading, byHeight }: Response,
  { errors, walk, walks, heightSd_m }: Errors,
  weights: Float64Array,
): ErrorEffects {
  const moved = byReading.map((by) => sliceByReading(by, weights));
  const byChannel = (error: Float64Array) =>
    median(moved.map((row) => Math.hypot(...row.map((value, d) => value * valueAt(error, d)))));
  const ofWalk = (row: Float64Array, column: number, one: number) =>
    row.reduce((sum, value, d) => {
      const rate = walk[d] === one ? valueAt(itemAt(byHeight, column), d) : 0;
      return sum + value * rate * heightSd_m;
    }, 0);
  const everyWalk = Array.from({ length: walks }, (_, one) => one);
  return {
    gain: byChannel(errors.gain),
    zero: byChannel(errors.zero),
    drift: byChannel(errors.drift),
    height: median(
      moved.map((row, column) => Math.hypot(...everyWalk.map((one) => ofWalk(row, column, one)))),
    ),
  };
}

/** c changes of the slice's mean for one of each reading, log10, from m × c of its layers. */
function sliceByReading(byReading: Float64Array, weights: Float64Array): Float64Array {
  const c = byReading.length / weights.length;
  return Float64Array.from({ length: c }, (_, d) => {
    const ln = weights.reduce((sum, w, j) => sum + w * valueAt(byReading, j * c + d), 0);
    return ln / Math.LN10;
  });
}
