import { itemAt, valueAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import type { DepthSlices } from "../depth-slices.js";
import { sliceColumns } from "./slice-columns.js";

/** Resistivity of a hidden layer over that around it: a sand lens in clay. */
const CONTRAST = 10;
/** Of a slice's thickness: thicknesses are told to this share of it. */
const STEP = 0.01;

/**
 * For each slice the thickness of a layer of ten times the resistivity around it that takes the
 * slice's truth to the end of its 80 % interval, m; null where none within the slice does. Coils
 * respond to conductance: a layer over a share x of slice and 1/c of the conductivity counts as the
 * slice lowered to 1 − (1 − 1/c) x. The estimate follows by its averaging kernel A, upwards by
 * −A ln(1 − (1 − 1/c) x); the true mean of the logarithm by x ln c. A truth with a normal posterior
 * is then within with probability 0.49 in place of 0.8. Medians over stations, so for typical ground
 * of the line; empty without an averaging kernel or an estimate at any station.
 * Source: McNeill 1980, Technical Note 6 (conductance); Rodgers 2000, section 3.2 (kernel).
 */
export function hiddenLayers_m(value: DepthSlices): readonly (number | null)[] {
  const { averaging, gap } = value;
  if (averaging === undefined || gap.every((cause) => cause !== "")) return [];
  return sliceColumns(value).map(({ slice, mean, p90 }, k) => {
    const follows = median(itemAt(itemAt(averaging, k), k));
    const above = Math.LN10 * median(p90.map((high, i) => high - valueAt(mean, i)));
    const share = leastShare(
      (x) => x * Math.log(CONTRAST) + follows * Math.log1p((1 / CONTRAST - 1) * x) >= above,
    );
    return share === null ? null : share * (slice.base_m - slice.top_m);
  });
}

function leastShare(outside: (share: number) => boolean): number | null {
  for (let part = 1; part * STEP <= 1; part++) {
    if (outside(part * STEP)) return part * STEP;
  }
  return null;
}
