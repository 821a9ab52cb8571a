import type { Cell } from "../../../figures/strip/strip.js";
import type { DepthSlices } from "../../depth-slices.js";

/** Columns that a section is drawn in, at the most; neighbouring stations share one where there are more. */
const COLUMNS = 400;
/** A layer has its full colour where its spread is under the first share of the prior's, none over the second. */
const FULL = 0.45;
const NONE = 0.85;
/** Confidence below the reliable depth, at the most. */
const BELOW = 0.3;

/** Depth down to which a section is drawn, m: half as much again as can be trusted. */
export function drawnDepth({ reliableTo_m, layers }: DepthSlices): number {
  return reliableTo_m > 0 ? 1.5 * reliableTo_m : layers.top_m.at(-1)!;
}

/** How sure a layer's colour is, 0 to 1: by its spread over the prior's, and faded below the reliable depth. */
export function confidenceAt(learned: number, middle_m: number, reliableTo_m: number): number {
  const spread = Math.sqrt(Math.max(0, 1 - learned));
  const own = Math.min(1, Math.max(0, (NONE - spread) / (NONE - FULL)));
  return middle_m > reliableTo_m ? Math.min(BELOW, own) : own;
}

/** Cells of chainage and layer; a station without an estimate has none, however many share a column. */
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

/** Unbroken runs of stations with an estimate. */
export function estimatedRuns({ gap }: Pick<DepthSlices, "gap">) {
  const runs: { readonly first: number; readonly last: number }[] = [];
  for (let i = 0; i < gap.length; i++) {
    if (gap[i] !== "") continue;
    const first = i;
    while (gap[i + 1] === "") i += 1;
    runs.push({ first, last: i });
  }
  return runs;
}

function columnCells(value: DepthSlices, first: number, last: number): readonly Cell[] {
  const { chainage_m, spacing_m, reliableTo_m, layers } = value;
  const { top_m } = layers;
  const m = top_m.length;
  const bottom = drawnDepth(value);
  const mean = (of: (station: number) => number) => {
    let sum = 0;
    for (let i = first; i <= last; i++) sum += of(i);
    return sum / (last - first + 1);
  };
  const elevation = value.crestElevation_m;
  const place = {
    from_m: chainage_m[first]! - spacing_m / 2,
    to_m: chainage_m[last]! + spacing_m / 2,
    ...(elevation && { surface_m: mean((i) => elevation[i]!) }),
  };
  const drawn = [...top_m].filter((top) => top < bottom);
  return cutAt(drawn, reliableTo_m, bottom).map(({ layer: j, top, base }) => {
    const learned = mean((i) => layers.learned[i * m + j]!);
    return {
      ...place,
      top_m: top,
      base_m: base,
      value: 10 ** mean((i) => layers.log10Resistivity[i * m + j]!),
      confidence: confidenceAt(learned, (top + base) / 2, reliableTo_m),
    };
  });
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
