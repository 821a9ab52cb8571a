import type { LineDraws } from "../posterior/line-drawer.js";
import { type SliceDepths, sliceWeight } from "./slice-weights.js";

/** log10(ohm-m) of a slice's mean in each draw: n × draws, NaN at stations that are not drawn. */
export function sliceDraws(
  { columns, top_m }: Pick<LineDraws, "columns" | "top_m">,
  slice: SliceDepths,
): Float64Array {
  const m = top_m.length;
  const weights = sliceWeight(top_m, slice);
  const first = weights.findIndex((weight) => weight > 0);
  const last = weights.findLastIndex((weight) => weight > 0);
  const out = new Float64Array(columns.length / m);
  for (let row = 0; row < out.length; row++) {
    let sum = 0;
    for (let j = first; j <= last; j++) sum -= weights[j]! * columns[row * m + j]!;
    out[row] = sum / Math.LN10;
  }
  return out;
}
