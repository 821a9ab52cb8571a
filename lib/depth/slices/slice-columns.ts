import { itemAt, valueAt } from "../../numerics/arrays.js";
import { NORMAL_90 } from "../../numerics/statistics/normal.js";
import type { DepthSlices, Slice } from "../depth-slices.js";

/** A slice with its n means, standard deviations and 80 % intervals, log10(ohm-m). */
export interface SliceColumn {
  readonly slice: Slice;
  readonly mean: Float64Array;
  readonly sd: Float64Array;
  readonly p10: Float64Array;
  readonly p90: Float64Array;
}

/** Intervals are the quantiles, or where only deviations are known those of a normal distribution. */
export function sliceColumns(value: DepthSlices): readonly SliceColumn[] {
  return value.slices.map((slice, k) => {
    const mean = itemAt(value.log10Resistivity, k);
    const sd = itemAt(value.sd, k);
    const bound = (deviations: number) => mean.map((one, i) => one + deviations * valueAt(sd, i));
    const p10 = value.p10?.[k] ?? bound(-NORMAL_90);
    return { slice, mean, sd, p10, p90: value.p90?.[k] ?? bound(NORMAL_90) };
  });
}

/** "over 180 ohm-m" is all that is known of a slice that the data bound from one side only. */
export function boundText({ bounded }: Slice): string {
  if (bounded === "below") return ", bounded from below only";
  if (bounded === "above") return ", bounded from above only";
  return bounded === "neither" ? ", not bounded" : "";
}
