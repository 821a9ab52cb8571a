import { itemAt, valueAt } from "../../numerics/arrays.js";
import {
  movingMedian,
  type Windows,
  windowsWithin,
} from "../../numerics/statistics/moving-median.js";
import { DrawShares } from "./draw-shares.js";
import { type Cells, overCells, type Presence, percent } from "./piece.js";
import type { SlicesAt25 } from "./slices-at-25.js";

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
  const shares = sharesOver(ground, { contrast: Math.log10(ratio), reach_m });
  const value = overCells(cells, ground.chainage_m, (i) => valueAt(shares, i));
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

/** For each station the share of the draws that exceed what is usual by the contrast. */
function sharesOver(
  ground: SlicesAt25,
  { contrast, reach_m }: { readonly contrast: number; readonly reach_m: number },
): Float64Array {
  const { chainage_m, draws } = ground;
  const near = windowsWithin(chainage_m, SMOOTH_M);
  const fillMean = belowFirst(ground);
  const [mean, own] = [new Float64Array(chainage_m.length), new Float64Array(chainage_m.length)];
  const fillBelow = (rows: readonly Float64Array[]) => {
    fillMean(rows, mean);
    fillMovingMean(mean, near, own);
  };
  fillBelow(ground.mean);
  const usual = movingMedian(own, windowsWithin(chainage_m, reach_m));
  const told = new DrawShares(chainage_m.length);
  for (const draw of draws) {
    fillBelow(draw);
    for (let i = 0; i < own.length; i++) told.count(i, own[i]! - usual[i]!, contrast);
  }
  return told.shares();
}

/** Half the length over which draws are averaged along the line before they are compared, m. */
const SMOOTH_M = 8;

/** A station without an estimate has no mean either: gaps stay gaps. */
function fillMovingMean(row: Float64Array, { first, end }: Windows, means: Float64Array): void {
  let [from, to, sum, count] = [0, 0, 0, 0];
  for (let i = 0; i < row.length; i++) {
    for (; to < end[i]!; to++) {
      if (Number.isNaN(row[to]!)) continue;
      sum += row[to]!;
      count++;
    }
    for (; from < first[i]!; from++) {
      if (Number.isNaN(row[from]!)) continue;
      sum -= row[from]!;
      count--;
    }
    means[i] = Number.isNaN(row[i]!) ? Number.NaN : sum / count;
  }
}

/** Mean of log10 over the slices below the first (or of the only one), by thickness. */
function belowFirst({ slices }: SlicesAt25) {
  const from = slices.length > 1 && slices[0]?.top_m === 0 ? 1 : 0;
  const whole = slices.slice(from).reduce((sum, { top_m, base_m }) => sum + base_m - top_m, 0);
  return (rows: readonly Float64Array[], sums: Float64Array): void => {
    sums.fill(slices.length > 0 ? 0 : Number.NaN);
    for (let k = from; k < slices.length; k++) {
      const { top_m, base_m } = itemAt(slices, k);
      const share = (base_m - top_m) / whole;
      const row = itemAt(rows, k);
      for (let i = 0; i < sums.length; i++) sums[i]! += share * row[i]!;
    }
  };
}
