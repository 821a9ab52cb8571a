import { itemAt, valueAt } from "../../../numerics/arrays.js";
import { NORMAL_90 } from "../../../numerics/normal.js";
import type { DepthSlices } from "../../depth-slices.js";
import type { Sounding } from "./sounding.js";

/** "At 1,012 m: 26 ohm-m down to 1.0 m, then 85 ohm-m down to 3.3 m, known to a factor of 1.3". */
export function soundingFinding(slices: DepthSlices, value: Sounding): string {
  const at = `At ${metres(value.chainage_m)} m`;
  const station = slices.chainage_m.indexOf(value.chainage_m);
  const here = (columns: readonly Float64Array[], k: number) =>
    valueAt(itemAt(columns, k), station);
  const resolved = slices.slices
    .map(({ reliable, base_m }, k) => ({ reliable, base_m, k }))
    .filter(({ reliable, base_m }) => reliable && base_m <= slices.reliableTo_m);
  if (resolved.length === 0) return `${at} the readings resolve no depth`;
  const parts = resolved.map(
    ({ base_m, k }) =>
      `${ohm(10 ** here(slices.log10Resistivity, k))} ohm-m down to ${base_m.toFixed(1)} m`,
  );
  const widest = Math.max(...resolved.map(({ k }) => here(slices.sd, k)));
  const factor = (10 ** (NORMAL_90 * widest)).toFixed(1);
  return `${at}: ${parts.join(", then ")}, known to a factor of ${factor}`;
}

const ohm = (value: number): string => Number(value.toPrecision(2)).toLocaleString("en");

export const metres = (value: number): string =>
  value.toLocaleString("en", { maximumFractionDigits: 1 });
