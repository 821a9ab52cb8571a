import { itemAt } from "../../numerics/arrays.js";
import type { DepthSlices, Slice } from "../depth-slices.js";

/** A slice with its n means and standard deviations, log10(ohm-m). */
export interface SliceColumn {
  readonly slice: Slice;
  readonly mean: Float64Array;
  readonly sd: Float64Array;
}

export function sliceColumns({
  slices,
  log10Resistivity,
  sd,
}: DepthSlices): readonly SliceColumn[] {
  return slices.map((slice, k) => ({
    slice,
    mean: itemAt(log10Resistivity, k),
    sd: itemAt(sd, k),
  }));
}
