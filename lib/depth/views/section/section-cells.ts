import type { Cell } from "../../../figures/strip/strip.js";
import { lastOf, valueAt } from "../../../numerics/arrays.js";
import { estimatedRuns } from "../../data/text-runs.js";
import type { DepthSlices } from "../../depth-slices.js";

/** Most columns of a section; where there are more stations, neighbours share one. */
const COLUMNS = 400;
/** Full colour below this ratio of posterior to prior standard deviation, none above the second. */
const FULL = 0.45;
const NONE = 0.85;
/** Most confidence below the reliable depth. */
const BELOW = 0.3;

/** Depth down to which a section is drawn, m: one and a half times the reliable depth. */
export function drawnDepth({ reliableTo_m, layers }: DepthSlices): number {
  return reliableTo_m > 0 ? 1.5 * reliableTo_m : lastOf(layers.top_m);
}

/** Strength of a layer's colour, 0 to 1: by posterior over prior standard deviation, and depth. */
export function confidenceAt(learned: number, middle_m: number, reliableTo_m: number): number {
  const spread = Math.sqrt(Math.max(0, 1 - learned));
  const own = Math.min(1, Math.max(0, (NONE - spread) / (NONE - FULL)));
  return middle_m > reliableTo_m ? Math.min(BELOW, own) : own;
}

/** Cells of chainage and layer, none at stations without an estimate. */
export function sectionCells(value: DepthSlices): readonly Cell[] {
  const together = Math.max(1, Math.ceil(value.chainage_m.length / COLUMNS));
  return estimatedRuns(value).flatMap(({ first, last }) => {
    const cells: Cell[] = [];
    for (let from = first; from <= last; from += together) {
      cells.push(...columnCells(value, from, Math.min(last, from + together - 1)));
    }
    return cells;
  });
}

function columnCells(value: DepthSlices, first: number, last: number): readonly Cell[] {
  const { chainage_m, spacing_m, reliableTo_m, layers, crestElevation_m } = value;
  const { top_m, learned, log10Resistivity } = layers;
  const bottom = drawnDepth(value);
  /** Of the columns' stations, of values that have `step` a station. */
  const meanOf = (values: Float64Array, step: number, layer: number) => {
    let sum = 0;
    for (let i = first; i <= last; i++) sum += valueAt(values, i * step + layer);
    return sum / (last - first + 1);
  };
  const place = {
    from_m: valueAt(chainage_m, first) - spacing_m / 2,
    to_m: valueAt(chainage_m, last) + spacing_m / 2,
    ...(crestElevation_m && { surface_m: meanOf(crestElevation_m, 1, 0) }),
  };
  const drawn = [...top_m].filter((top) => top < bottom);
  return cutAt(drawn, reliableTo_m, bottom).map(({ layer, top, base }) => ({
    ...place,
    top_m: top,
    base_m: base,
    value: 10 ** meanOf(log10Resistivity, top_m.length, layer),
    confidence: confidenceAt(meanOf(learned, top_m.length, layer), (top + base) / 2, reliableTo_m),
  }));
}

/** The layers down to the bottom, one that the reliable depth crosses in two. */
function cutAt(tops: readonly number[], cut: number, bottom: number) {
  return tops.flatMap((top, layer) => {
    const base = Math.min(tops[layer + 1] ?? bottom, bottom);
    if (!(cut > top && cut < base)) return [{ layer, top, base }];
    return [
      { layer, top, base: cut },
      { layer, top: cut, base },
    ];
  });
}
