import type { Channel } from "../../survey/survey.js";

/** Readings of two walks are compared on a grid of this spacing, m. */
export const GRID_M = 0.5;

/** A value and its place in cells of the grid. */
export type OnGrid = readonly [cell: number, value: number];

/** Tells every cell between two places what lies on the straight line between their values. */
export function eachBetween(
  one: OnGrid,
  other: OnGrid,
  told: (cell: number, value: number) => void,
): void {
  const [low, high] = one[0] <= other[0] ? [one, other] : [other, one];
  for (let g = Math.ceil(low[0]); g <= high[0]; g++) {
    told(g, low[1] + ((high[1] - low[1]) * (g - low[0])) / (high[0] - low[0]));
  }
}

/** The values less their mean over `half` cells before and after; NaN is left out of the means. */
export function withoutSlowPart(grid: Float64Array, half: number): Float64Array {
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
 * Indices of channels of one kind, frequency and spacing, first of the one and then of the other; of
 * the same orientation where there is one, else of another.
 */
export function sharedChannels(
  one: readonly Channel[],
  other: readonly Channel[],
): readonly (readonly [number, number])[] {
  const alike = (a: Channel, b: Channel) =>
    a.kind === b.kind && a.frequency_Hz === b.frequency_Hz && a.separation_m === b.separation_m;
  const all = one.flatMap((a, i) =>
    other.flatMap((b, j) => (alike(a, b) ? [[i, j] as const] : [])),
  );
  const same = all.filter(([i, j]) => one[i]!.orientation === other[j]!.orientation);
  return same.length > 0 ? same : all;
}
