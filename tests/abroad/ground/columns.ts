import type { Earth } from "../earth/reflection.js";

/** The ground under one chainage: layers from the surface down, the last going on for ever. */
export interface Column {
  /** m tops, m, the first 0. */
  readonly top_m: readonly number[];
  /** m values of log10(ohm-m). */
  readonly log10: readonly number[];
}

/** A stretch where the resistivity between two depths is multiplied, at 25 °C as in the field. */
export interface GroundChange {
  readonly from_m: number;
  readonly to_m: number;
  readonly top_m: number;
  readonly base_m: number;
  readonly factor: number;
  /** The first campaign that sees it, counted from 0; default 1. */
  readonly since?: number;
}

export function earthOf({ top_m, log10 }: Column): Earth {
  return {
    conductivity_S_per_m: Float64Array.from(log10, (value) => 10 ** -value),
    thickness_m: Float64Array.from(top_m.slice(1), (top, j) => top - top_m[j]!),
  };
}

/** Mean of log10(ohm-m) between two depths, exactly. */
export function meanLog10({ top_m, log10 }: Column, from_m: number, to_m: number): number {
  let sum = 0;
  for (const [j, top] of top_m.entries()) {
    const base = top_m[j + 1] ?? Number.POSITIVE_INFINITY;
    const share = Math.min(base, to_m) - Math.max(top, from_m);
    if (share > 0) sum += share * log10[j]!;
  }
  return sum / (to_m - from_m);
}

/** The column with resistivity between two depths multiplied. */
export function raised(column: Column, { top_m, base_m, factor }: GroundChange): Column {
  const cut = cutAt(cutAt(column, top_m), base_m);
  const log10 = cut.log10.map((value, j) => {
    const inside = cut.top_m[j]! >= top_m && cut.top_m[j]! < base_m;
    return inside ? value + Math.log10(factor) : value;
  });
  return { top_m: cut.top_m, log10 };
}

/** The same ground with one more layer border. */
export function cutAt({ top_m, log10 }: Column, depth_m: number): Column {
  if (!(depth_m > 0) || !Number.isFinite(depth_m) || top_m.includes(depth_m)) {
    return { top_m, log10 };
  }
  const at = top_m.findLastIndex((top) => top < depth_m);
  return {
    top_m: top_m.toSpliced(at + 1, 0, depth_m),
    log10: log10.toSpliced(at + 1, 0, log10[at]!),
  };
}

/** Layer by layer what the depth adds to log10: the middle counts, 1 m into the last one. */
export function shifted({ top_m, log10 }: Column, by: (depth_m: number) => number): Column {
  const middle = (j: number) => {
    const base = top_m[j + 1];
    return base === undefined ? top_m[j]! + 1 : (top_m[j]! + base) / 2;
  };
  return { top_m, log10: log10.map((value, j) => value + by(middle(j))) };
}
