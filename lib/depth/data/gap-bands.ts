import type { SetAsideBand } from "../../figures/strip/strip.js";
import { valueAt } from "../../numerics/arrays.js";
import type { DepthSlices } from "../depth-slices.js";
import { textRuns } from "./text-runs.js";

/**
 * Runs of stations without an estimate, with what they were set aside for, "no GPS" where a walk
 * had readings without a position there, or "no readings".
 */
export function gapBands(slices: DepthSlices): readonly SetAsideBand[] {
  const unplaced = (slices.gpsGaps ?? []).filter(({ bridged }) => !bridged);
  const texts = slices.gap.map((gap, i) => {
    const why = slices.gapCause?.[i] || gap;
    const x = valueAt(slices.chainage_m, i);
    const within = unplaced.some(({ from_m, to_m }) => x > from_m && x < to_m);
    return why === "no readings" && within ? "no GPS" : why;
  });
  return stationBands(texts, slices);
}

/** Runs of stations with the same text, as bands along the line; "" has none. */
export function stationBands(
  texts: readonly string[],
  { chainage_m, spacing_m }: Pick<DepthSlices, "chainage_m" | "spacing_m">,
): readonly SetAsideBand[] {
  return textRuns(texts).map(({ first, last, text }) => ({
    from_m: valueAt(chainage_m, first) - spacing_m / 2,
    to_m: valueAt(chainage_m, last) + spacing_m / 2,
    text,
  }));
}
