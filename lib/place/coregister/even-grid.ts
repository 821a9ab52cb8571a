import { itemAt } from "../../numerics/arrays.js";
import { madScale } from "../../numerics/statistics/robust.js";
import type { Channel, Pass } from "../../survey/survey.js";

/** Readings of two walks are compared on a grid of this spacing, m. */
export const GRID_M = 0.5;

/** What varies more slowly than this is drift or geology and does not locate a pass, m. */
const WINDOW_M = 30;

/** A value and its place in cells of the grid. */
export type OnGrid = readonly [cell: number, value: number];

/**
 * Calls back for every cell between two places with the value on the straight line between theirs.
 */
export function eachBetween(
  one: OnGrid,
  other: OnGrid,
  visit: (cell: number, value: number) => void,
): void {
  const [low, high] = one[0] <= other[0] ? [one, other] : [other, one];
  for (let g = Math.ceil(low[0]); g <= high[0]; g++) {
    visit(g, low[1] + ((high[1] - low[1]) * (g - low[0])) / (high[0] - low[0]));
  }
}

/** The values less their running mean over 30 m, cut to 4 robust standard deviations. */
export function highPass(grid: Float64Array): Float64Array {
  const rough = lessRunningMean(grid, Math.round(WINDOW_M / 2 / GRID_M));
  const most = 4 * madScale(rough);
  return rough.map((value) => Math.max(-most, Math.min(most, value)));
}

/** The mean is over `half` cells before and after; NaN is left out of it. */
function lessRunningMean(grid: Float64Array, half: number): Float64Array {
  const n = grid.length;
  const sum = new Float64Array(n + 1);
  const count = new Float64Array(n + 1);
  for (let g = 0; g < n; g++) {
    const isThere = !Number.isNaN(grid[g]!);
    sum[g + 1] = sum[g]! + (isThere ? grid[g]! : 0);
    count[g + 1] = count[g]! + (isThere ? 1 : 0);
  }
  return grid.map((value, g) => {
    const [from, to] = [Math.max(0, g - half), Math.min(n, g + half + 1)];
    return value - (sum[to]! - sum[from]!) / (count[to]! - count[from]!);
  });
}

/**
 * Indices of channels of one kind, frequency and spacing, first of the one and then of the other;
 * of the same orientation where there is one, else of another.
 */
export function sharedChannels(
  { instrument: { channels: one } }: Pick<Pass, "instrument">,
  { instrument: { channels: other } }: Pick<Pass, "instrument">,
): readonly (readonly [number, number])[] {
  const isLike = (a: Channel, b: Channel) =>
    a.kind === b.kind && a.frequency_Hz === b.frequency_Hz && a.separation_m === b.separation_m;
  const all = one.flatMap((a, i) =>
    other.flatMap((b, j) => (isLike(a, b) ? [[i, j] as const] : [])),
  );
  const same = all.filter(([i, j]) => itemAt(one, i).orientation === itemAt(other, j).orientation);
  return same.length > 0 ? same : all;
}
