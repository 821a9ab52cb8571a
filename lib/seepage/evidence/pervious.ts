import { itemAt, valueAt } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";
import { median, quantile } from "../../numerics/statistics/robust.js";
import type { Pervious } from "../pervious-threshold.js";
import { type Cells, overCells, type Presence, percent, type Stretch } from "./piece.js";
import type { SlicesAt25 } from "./slices-at-25.js";

/** What the draws say of the ground under a station, a number a draw. */
interface PerviousGround {
  /** Ground over the threshold below the first slice, m. */
  readonly thickness_m: number[];
  /** Ground under the threshold on it, m. */
  readonly cover_m: number[];
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
  const value = overCells(cells, ground.chainage_m, (i) =>
    shareOf(drawsAt(ground, i, log10).thickness_m, least_m),
  );
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

/** Draws at a station; none where it has no estimate, or none below the surface. */
function drawsAt({ slices, draws }: SlicesAt25, i: number, log10: number): PerviousGround {
  const found: PerviousGround = { thickness_m: [], cover_m: [] };
  if (!slices.some(({ top_m }) => top_m > 0)) return found;
  for (const draw of draws) {
    if (draw.some((row) => Number.isNaN(valueAt(row, i)))) continue;
    let [thickness_m, cover_m] = [0, 0];
    for (let k = 0; k < slices.length; k++) {
      const { top_m, base_m } = itemAt(slices, k);
      const isPervious = valueAt(itemAt(draw, k), i) >= log10;
      if (isPervious && top_m > 0) thickness_m += base_m - top_m;
      else if (thickness_m === 0 && !isPervious) cover_m = base_m;
    }
    found.thickness_m.push(thickness_m);
    found.cover_m.push(cover_m);
  }
  return found;
}

/** The share of values from `least` on; NaN without any. */
function shareOf(values: readonly number[], least: number): number {
  let count = 0;
  for (const value of values) if (value >= least) count++;
  return count / values.length;
}

/** Such as "; 1.6 m of it (80 %: 0–3.2), under 0.8 m of cover". */
function thicknessText(ground: SlicesAt25, log10: number, { from_m, to_m }: Stretch): string {
  const [thickness, covered]: [number[], number[]] = [[], []];
  for (const [i, x] of ground.chainage_m.entries()) {
    if (!(x >= from_m && x <= to_m)) continue;
    const { thickness_m, cover_m } = drawsAt(ground, i, log10);
    thickness.push(...thickness_m);
    covered.push(...cover_m.filter((_, draw) => itemAt(thickness_m, draw) > 0));
  }
  if (thickness.length === 0) return "";
  const [low, high] = [quantile(thickness, 0.1), quantile(thickness, 0.9)];
  const cover = covered.length > 0 ? `, under ${median(covered).toFixed(1)} m of cover` : "";
  return ` (thickness ${low.toFixed(1)}–${high.toFixed(1)} m, 80 %${cover})`;
}

/**
 * Ground that stands out as more resistive than the line about it: the probability, over draws,
 * that the mean of the slices below the first, over 16 m along the line, exceeds by `ratio` its
 * median within `reach_m`.
 */
export function standingOut(
  cells: Cells,
  ground: SlicesAt25,
  { ratio, reach_m }: { readonly ratio: number; readonly reach_m: number },
): Presence {
  const mean = belowFirst(ground);
  const below = (rows: readonly Float64Array[]) => movingMean(ground, mean(rows));
  const estimate = below(ground.mean);
  const usual = overWindows(ground, estimate, { half_m: reach_m, of: median });
  const contrast = Math.log10(ratio);
  const drawn = ground.draws.map(below);
  const value = overCells(cells, ground.chainage_m, (i) =>
    shareOver(drawn, i, { usual: valueAt(usual, i), contrast }),
  );
  return {
    name: "resistive core",
    value,
    source: "crest walk: the same draws, against the line about the place",
    statement: (share) =>
      `${percent(share)} likely that the ground below the first slice is at least ` +
      `${ratio.toFixed(2)} times as resistive as along half of the ${(2 * reach_m).toFixed(0)} m ` +
      "about it.",
    unknown: "Not known here: no slice of the crest walk is known below the first.",
  };
}

/** The share of the rows that exceed what is usual by the contrast; NaN without any. */
function shareOver(
  rows: readonly Float64Array[],
  i: number,
  { usual, contrast }: { readonly usual: number; readonly contrast: number },
): number {
  let [count, over] = [0, 0];
  for (const row of rows) {
    const off = valueAt(row, i) - usual;
    if (Number.isNaN(off)) continue;
    count++;
    if (off >= contrast) over++;
  }
  return over / count;
}

/** Half the length over which draws are averaged along the line before they are compared, m. */
const SMOOTH_M = 8;

/** A station without an estimate has no mean either: gaps stay gaps. */
function movingMean(ground: SlicesAt25, row: Float64Array): Float64Array {
  const means = overWindows(ground, row, { half_m: SMOOTH_M, of: presentMean });
  return means.map((mean, i) => (Number.isNaN(valueAt(row, i)) ? Number.NaN : mean));
}

interface Window {
  readonly half_m: number;
  readonly of: (values: Float64Array) => number;
}

/** Something of the values within so many metres of each station. */
function overWindows(
  { chainage_m }: SlicesAt25,
  row: Float64Array,
  { half_m, of }: Window,
): Float64Array {
  let [first, end] = [0, 0];
  return chainage_m.map((x) => {
    while (valueAt(chainage_m, first) < x - half_m) first++;
    while (end < row.length && valueAt(chainage_m, end) <= x + half_m) end++;
    return of(row.subarray(first, end));
  });
}

/** Mean of log10 over the slices below the first (or of the only one), by thickness. */
function belowFirst({ slices, chainage_m }: SlicesAt25) {
  const from = slices.length > 1 && slices[0]?.top_m === 0 ? 1 : 0;
  const whole = slices.slice(from).reduce((sum, { top_m, base_m }) => sum + base_m - top_m, 0);
  return (rows: readonly Float64Array[]): Float64Array =>
    chainage_m.map((_, i) => {
      let sum = 0;
      for (let k = from; k < slices.length; k++) {
        const { top_m, base_m } = itemAt(slices, k);
        sum += ((base_m - top_m) / whole) * valueAt(itemAt(rows, k), i);
      }
      return slices.length > 0 ? sum : Number.NaN;
    });
}
