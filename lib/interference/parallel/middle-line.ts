import { itemAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";

/** Slopes between a point and those at least this share of the line away. */
const FAR = 1 / 3;
/** About so many points are taken for slopes. */
const POINTS = 60;

/**
 * A line through the middle of values: the median of the slopes between points far apart, and of
 * the levels about it; 0 without values. Source: Theil 1950, Sen 1968.
 */
export function middleLine(
  points: readonly { readonly at: number; readonly value: number }[],
): (at: number) => number {
  const n = points.length;
  if (n === 0) return () => 0;
  const slopes: number[] = [];
  const away = Math.max(1, Math.floor(FAR * n));
  const step = Math.max(1, Math.floor(n / POINTS));
  for (let i = 0; i + away < n; i += step) {
    for (let j = i + away; j < n; j += step) {
      const [one, other] = [itemAt(points, i), itemAt(points, j)];
      slopes.push((other.value - one.value) / (other.at - one.at));
    }
  }
  const slope = median(slopes) || 0;
  const level = median(points.map(({ at, value }) => value - slope * at));
  return (at) => level + slope * at;
}
