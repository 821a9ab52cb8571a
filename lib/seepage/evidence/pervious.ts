import { itemAt, valueAt } from "../../numerics/arrays.js";
import { median, quantile } from "../../numerics/statistics/robust.js";
import type { Pervious } from "../pervious-threshold.js";
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
  const value = overCells(cells, ground.chainage_m, (i) =>
    shareThick(ground, i, { log10, least_m }),
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

/** The share of the draws with so much pervious ground; NaN without any. */
function shareThick(ground: SlicesAt25, i: number, { log10, least_m }: Pervious): number {
  if (!isKnownBelow(ground)) return Number.NaN;
  let [thick, count] = [0, 0];
  for (const draw of ground.draws) {
    const under = underDraw(ground, draw, { i, log10 });
    if (under === null) continue;
    count++;
    if (under.thickness_m >= least_m) thick++;
  }
  return thick / count;
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
  const usual = movingMedian(ground, estimate, reach_m);
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
function movingMean({ chainage_m }: SlicesAt25, row: Float64Array): Float64Array {
  let [first, end, sum, count] = [0, 0, 0, 0];
  const take = (value: number, sign: 1 | -1) => {
    if (Number.isNaN(value)) return;
    sum += sign * value;
    count += sign;
  };
  return row.map((own, i) => {
    const x = chainage_m[i]!;
    while (end < row.length && chainage_m[end]! <= x + SMOOTH_M) take(row[end++]!, 1);
    while (chainage_m[first]! < x - SMOOTH_M) take(row[first++]!, -1);
    return Number.isNaN(own) ? Number.NaN : sum / count;
  });
}

/** The median of the values within so many metres of each station. */
function movingMedian({ chainage_m }: SlicesAt25, row: Float64Array, half_m: number): Float64Array {
  let [first, end] = [0, 0];
  return chainage_m.map((x) => {
    while (valueAt(chainage_m, first) < x - half_m) first++;
    while (end < row.length && valueAt(chainage_m, end) <= x + half_m) end++;
    return median(row.subarray(first, end));
  });
}

/** Mean of log10 over the slices below the first (or of the only one), by thickness. */
function belowFirst({ slices, chainage_m }: SlicesAt25) {
  const from = slices.length > 1 && slices[0]?.top_m === 0 ? 1 : 0;
  const whole = slices.slice(from).reduce((sum, { top_m, base_m }) => sum + base_m - top_m, 0);
  return (rows: readonly Float64Array[]): Float64Array => {
    const sums = new Float64Array(chainage_m.length).fill(slices.length > 0 ? 0 : Number.NaN);
    for (let k = from; k < slices.length; k++) {
      const { top_m, base_m } = itemAt(slices, k);
      const share = (base_m - top_m) / whole;
      for (const [i, value] of itemAt(rows, k).entries()) sums[i]! += share * value;
    }
    return sums;
  };
}
