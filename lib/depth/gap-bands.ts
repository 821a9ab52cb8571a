import type { SetAsideBand } from "../figures/strip-types.js";
import type { DepthSlices } from "./depth-slices.js";

/** Runs of stations without an estimate, with what they were set aside for or "no readings". */
export function gapBands(slices: DepthSlices): SetAsideBand[] {
  const half = slices.spacing_m / 2;
  const textAt = (i: number) => slices.gapCause?.[i] || slices.gap[i] || "";
  const bands: SetAsideBand[] = [];
  for (let i = 0; i < slices.gap.length; i++) {
    const text = textAt(i);
    if (text === "") continue;
    const from_m = slices.chainage_m[i]! - half;
    while (textAt(i + 1) === text) i++;
    bands.push({ from_m, to_m: slices.chainage_m[i]! + half, text });
  }
  return bands;
}
