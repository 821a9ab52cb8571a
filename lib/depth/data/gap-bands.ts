import type { SetAsideBand } from "../../figures/strip/types.js";
import type { DepthSlices } from "../depth-slices.js";

/**
 * Runs of stations without an estimate, with what they were set aside for, "no GPS" where a walk had
 * readings without a position there, or "no readings".
 */
export function gapBands(slices: DepthSlices): SetAsideBand[] {
  const half = slices.spacing_m / 2;
  const unplaced = (slices.gpsGaps ?? []).filter(({ bridged }) => !bridged);
  const textAt = (i: number) => {
    const why = slices.gapCause?.[i] || slices.gap[i] || "";
    const x = slices.chainage_m[i]!;
    const within = unplaced.some(({ from_m, to_m }) => x > from_m && x < to_m);
    return why === "no readings" && within ? "no GPS" : why;
  };
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
