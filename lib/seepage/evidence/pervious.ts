import { valueAt } from "../../numerics/arrays.js";
import { median, quantile } from "../../numerics/statistics/robust.js";
import type { Pervious } from "../pervious-threshold.js";
import { DrawShares } from "./draw-shares.js";
import { type Cells, overCells, type Presence, percent, type Stretch } from "./piece.js";
import type { SlicesAt25 } from "./slices-at-25.js";

/** What one draw says of the ground under a station. */
interface PerviousGround {
  /** Ground over the threshold below the first slice, m. */
  readonly thickness_m: number;
  /** Ground under the threshold on it, m. */
  readonly cover_m: number;
}

/**
 * Ground more resistive than the threshold at 25 °C under a cover that is less so: one piece, since
 * both are read off the same readings. Its value is the probability, over draws of the slices, that
 * at least `least_m` of such ground lies below the slice at the surface.
 */
export function perviousUnderCover(
  cells: Cells,
  ground: SlicesAt25,
  { log10, least_m }: Pervious,
): Presence {
  const shares = sharesThick(ground, { log10, least_m });
  const value = overCells(cells, ground.chainage_m, (i) => valueAt(shares, i));
  const deepest_m = ground.slices.at(-1)?.base_m ?? 0;
  const limit = `${(10 ** log10).toFixed(0)} ohm-m${ground.at25 ? " at 25 °C" : ""}`;
  return {
    name: "pervious under cover",
    value,
    source:
      "crest walk: posterior draws of the depth slices, layered ground under each station" +
      `${ground.joint ? "" : ", slices drawn one by one"}${ground.at25 ? "" : ", field temperature"}`,
    statement: (share, stretch) =>
      `${percent(share)} likely that ${least_m.toFixed(1)} m or more of ground over ${limit} lie ` +
      `between the first slice and ${deepest_m.toFixed(1)} m${thicknessText(ground, log10, stretch)}.`,
    unknown: "Not known here: no slice of the crest walk is known below the first.",
  };
}

/** Under one draw at a station; null where it has no estimate. */
function underDraw(
  { slices }: SlicesAt25,
  draw: readonly Float64Array[],
  { i, log10 }: { readonly i: number; readonly log10: number },
): PerviousGround | null {
  let [thickness_m, cover_m] = [0, 0];
  for (let k = 0; k < slices.length; k++) {
    const { top_m, base_m } = slices[k]!;
    const value = draw[k]![i]!;
    if (Number.isNaN(value)) return null;
    const isPervious = value >= log10;
    if (isPervious && top_m > 0) thickness_m += base_m - top_m;
    else if (thickness_m === 0 && !isPervious) cover_m = base_m;
  }
  return { thickness_m, cover_m };
}

const isKnownBelow = ({ slices }: SlicesAt25) => slices.some(({ top_m }) => top_m > 0);

/** For each station the share of the draws with so much pervious ground; NaN without any. */
function sharesThick(ground: SlicesAt25, { log10, least_m }: Pervious): Float64Array {
  const n = ground.chainage_m.length;
  if (!isKnownBelow(ground)) return new Float64Array(n).fill(Number.NaN);
  const thickness_m = ground.slices.map(({ top_m, base_m }) => (top_m > 0 ? base_m - top_m : 0));
  const told = new DrawShares(n);
  const thick_m = new Float64Array(n);
  for (const draw of ground.draws) {
    thick_m.fill(0);
    for (const [k, row] of draw.entries())
      addPervious(thick_m, row, { log10, by_m: thickness_m[k]! });
    for (let i = 0; i < n; i++) told.count(i, thick_m[i]!, least_m);
  }
  return told.shares();
}

/** Adds a slice's thickness where it is pervious; NaN where it has no value. */
function addPervious(
  thick_m: Float64Array,
  row: Float64Array,
  { log10, by_m }: { readonly log10: number; readonly by_m: number },
): void {
  for (let i = 0; i < thick_m.length; i++) {
    const value = row[i]!;
    if (value >= log10) thick_m[i]! += by_m;
    else if (Number.isNaN(value)) thick_m[i] = Number.NaN;
  }
}

/** Such as "; 1.6 m of it (80 %: 0–3.2), under 0.8 m of cover". */
function thicknessText(ground: SlicesAt25, log10: number, { from_m, to_m }: Stretch): string {
  if (!isKnownBelow(ground)) return "";
  const [thickness, covered]: [number[], number[]] = [[], []];
  for (const [i, x] of ground.chainage_m.entries()) {
    if (!(x >= from_m && x <= to_m)) continue;
    for (const draw of ground.draws) {
      const under = underDraw(ground, draw, { i, log10 });
      if (under === null) continue;
      thickness.push(under.thickness_m);
      if (under.thickness_m > 0) covered.push(under.cover_m);
    }
  }
  if (thickness.length === 0) return "";
  const [low, high] = [quantile(thickness, 0.1), quantile(thickness, 0.9)];
  const cover = covered.length > 0 ? `, under ${median(covered).toFixed(1)} m of cover` : "";
  return ` (thickness ${low.toFixed(1)}–${high.toFixed(1)} m, 80 %${cover})`;
}
