import { valueAt } from "../../../numerics/arrays.js";
import { NORMAL_90 } from "../../../numerics/statistics/normal.js";
import type { DepthSlices } from "../../depth-slices.js";
import { sliceColumns } from "../../slices/slice-columns.js";
import type { Sounding } from "./sounding.js";

/** "At 1,012 m: 26 ohm-m down to 1.0 m, then 85 ohm-m down to 3.3 m, known to a factor of 1.3". */
export function soundingFinding(slices: DepthSlices, value: Sounding): string {
  const at = `At ${metres(value.chainage_m)} m`;
  const station = slices.chainage_m.indexOf(value.chainage_m);
  const resolved = sliceColumns(slices).filter(
    ({ slice }) => slice.reliable && slice.base_m <= slices.reliableTo_m,
  );
  if (resolved.length === 0) return `${at} the readings resolve no depth`;
  const parts = resolved.map(
    ({ slice, mean }) =>
      `${ohm(10 ** valueAt(mean, station))} ohm-m down to ${slice.base_m.toFixed(1)} m`,
  );
  const widest = Math.max(...resolved.map(({ sd }) => valueAt(sd, station)));
  const factor = (10 ** (NORMAL_90 * widest)).toFixed(1);
  return `${at}: ${parts.join(", then ")}, known to a factor of ${factor}`;
}

const ohm = (value: number): string => Number(value.toPrecision(2)).toLocaleString("en");

export const metres = (value: number): string =>
  value.toLocaleString("en", { maximumFractionDigits: 1 });
