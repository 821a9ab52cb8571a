import type { Centreline } from "../centreline.js";

/** Segments of a centreline that follow each other, and what they lie within, grid metres. */
interface Block {
  readonly first: number;
  /** After the last one. */
  readonly end: number;
  readonly west_m: number;
  readonly east_m: number;
  readonly south_m: number;
  readonly north_m: number;
}

/** Segments a block; lines of fewer are one block, in which all are looked at. */
const SEGMENTS = 64;
/** A grid stretches distances by less than this (`read/frame/choose-projection`). */
const STRETCH = 1.02;

const known = new WeakMap<Centreline, readonly Block[]>();

/**
 * The blocks, in their order, that may hold a point of the line within `window_m` of the nearest
 * one to a position: what lies further is left out without looking at its segments.
 */
export function blocksNear(
  centreline: Centreline,
  easting_m: number,
  northing_m: number,
  window_m: number,
): readonly Block[] {
  const blocks = blocksOf(centreline);
  if (blocks.length === 1) return blocks;
  let nearest_m = Number.POSITIVE_INFINITY;
  for (const block of blocks) {
    nearest_m = Math.min(nearest_m, furthestOf(block, easting_m, northing_m));
  }
  const reach_m = STRETCH * (nearest_m + window_m);
  return blocks.filter((block) => closestOf(block, easting_m, northing_m) <= reach_m);
}

function closestOf({ west_m, east_m, south_m, north_m }: Block, x: number, y: number): number {
  const across_m = Math.max(west_m - x, 0, x - east_m);
  const along_m = Math.max(south_m - y, 0, y - north_m);
  return Math.hypot(across_m, along_m);
}

function furthestOf({ west_m, east_m, south_m, north_m }: Block, x: number, y: number): number {
  const across_m = Math.max(Math.abs(west_m - x), Math.abs(x - east_m));
  const along_m = Math.max(Math.abs(south_m - y), Math.abs(y - north_m));
  return Math.hypot(across_m, along_m);
}

function blocksOf(centreline: Centreline): readonly Block[] {
  const found = known.get(centreline);
  if (found !== undefined) return found;
  const { easting_m: x, northing_m: y } = centreline;
  const count = Math.max(1, Math.ceil((x.length - 1) / SEGMENTS));
  const blocks = Array.from({ length: count }, (_, i): Block => {
    const [first, end] = [i * SEGMENTS, Math.min(x.length - 1, (i + 1) * SEGMENTS)];
    const [xs, ys] = [x.subarray(first, end + 1), y.subarray(first, end + 1)];
    const [west_m, east_m] = [Math.min(...xs), Math.max(...xs)];
    const [south_m, north_m] = [Math.min(...ys), Math.max(...ys)];
    return { first, end, west_m, east_m, south_m, north_m };
  });
  known.set(centreline, blocks);
  return blocks;
}
