import type { ChangedBody, ChangeValues } from "./section-change.js";

/**
 * The cells that changed: as many of the surest as keep the mean probability of the other direction
 * at q or below (Bayesian false discovery rate).
 */
export function changedCells(mean: Float64Array, probability: Float64Array, q: number): Int8Array {
  const order = Array.from(mean.keys()).sort(
    (one, other) => probability[other]! - probability[one]!,
  );
  const out = new Int8Array(mean.length);
  let wrong = 0;
  for (const [rank, cell] of order.entries()) {
    wrong += 1 - probability[cell]!;
    if (wrong / (rank + 1) > q || probability[cell]! < 1 - 2 * q) break;
    out[cell] = mean[cell]! > 0 ? 1 : -1;
  }
  return out;
}

/** A body of fewer cells is left to the picture. */
const LEAST_CELLS = 2;

/** Connected cells of one direction, the most certain first; the endless last row is left out. */
export function changedBodies(cells: Omit<ChangeValues, "p10" | "p90" | "log10Sd">): ChangedBody[] {
  const down = cells.depth_m.length - 1;
  const seen = new Set<number>();
  const bodies: ChangedBody[] = [];
  for (const [start, direction] of cells.changed.entries()) {
    if (direction === 0 || seen.has(start) || start % down === down - 1) continue;
    const body = connected(cells.changed, start, { down, seen });
    if (body.length >= LEAST_CELLS) bodies.push(bodyOf(cells, body));
  }
  return bodies.sort((one, other) => other.probability - one.probability);
}

function connected(
  changed: Int8Array,
  start: number,
  { down, seen }: { readonly down: number; readonly seen: Set<number> },
): number[] {
  const body: number[] = [];
  const open = [start];
  seen.add(start);
  for (let cell = open.pop(); cell !== undefined; cell = open.pop()) {
    body.push(cell);
    const row = cell % down;
    const beside = [cell - down, cell + down];
    if (row > 0) beside.push(cell - 1);
    if (row < down - 2) beside.push(cell + 1);
    for (const next of beside) {
      if (changed[next] !== changed[start] || seen.has(next)) continue;
      seen.add(next);
      open.push(next);
    }
  }
  return body;
}

function bodyOf(
  { x_m, depth_m, log10Ratio, probability }: Omit<ChangeValues, "p10" | "p90" | "log10Sd">,
  body: readonly number[],
): ChangedBody {
  const down = depth_m.length - 1;
  const columns = body.map((cell) => Math.floor(cell / down));
  const rows = body.map((cell) => cell % down);
  const mean = (of: Float64Array) => body.reduce((sum, cell) => sum + of[cell]!, 0) / body.length;
  const log10 = mean(log10Ratio);
  return {
    from_m: x_m[Math.min(...columns)]!,
    to_m: x_m[Math.max(...columns) + 1]!,
    top_m: depth_m[Math.min(...rows)]!,
    base_m: depth_m[Math.max(...rows) + 1]!,
    direction: log10 > 0 ? "rose" : "fell",
    ratio: 10 ** log10,
    probability: mean(probability),
  };
}
