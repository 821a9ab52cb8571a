import { firstOf, neighbours } from "../numerics/arrays.js";
import { linearBetween } from "../numerics/functions/linear-between.js";

/** Wanted size of a cell at a place. */
export type CellSize = (position: number) => number;

/** Break points nearer than this share of the local cell are taken as one. */
const SLIVER = 0.02;

/** All `kept` points, and those of `others` that lie inside the ends and not upon another. */
export function breakPoints(
  ends: readonly [number, number],
  kept: readonly number[],
  others: readonly number[],
  size: CellSize,
): number[] {
  const points = [...ends, ...kept];
  for (const other of others) {
    if (!(other > ends[0] && other < ends[1])) continue;
    const gap = SLIVER * size(other);
    if (points.every((point) => Math.abs(point - other) > gap)) points.push(other);
  }
  return points.sort((p, q) => p - q);
}

/** Lines through all break points, with cells of about the wanted size between them. */
export function gridLines(points: readonly number[], size: CellSize): Float64Array {
  const cells = neighbours(points).map(([from, to]) => [...between(from, to, size), to]);
  return Float64Array.from([firstOf(points), ...cells.flat()]);
}

/** Inner lines that share ∫ dx/size equally; the integral is taken in a few hundred steps. */
function between(from: number, to: number, size: CellSize): number[] {
  const at = [from];
  const cumulated = [0];
  let [x, total] = [from, 0];
  while (x < to) {
    const step = Math.min(size(x) / 16, to - x);
    const next = step < 1e-12 * (to - from) ? to : x + step;
    total += (next - x) / size((x + next) / 2);
    x = next;
    at.push(x);
    cumulated.push(total);
  }
  const cells = Math.max(1, Math.round(total));
  return Array.from({ length: cells - 1 }, (_, i) =>
    linearBetween(cumulated, at, ((i + 1) / cells) * total),
  );
}
