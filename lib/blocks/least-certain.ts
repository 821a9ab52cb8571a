import type { Block } from "./blocks.js";

/** Width of the 90 % interval of a block's start, m. */
export const intervalWidth = (block: Block) => block.fromInterval_m[1] - block.fromInterval_m[0];

/**
 * The block whose start is the least certain: the least probability of a boundary near it, and
 * among equals (to 0.001) the widest interval. Null where there is one block or none.
 */
export function leastCertain(blocks: readonly Block[]): Block | null {
  let worst: Block | null = null;
  for (const block of blocks.slice(1)) {
    if (worst === null || lessCertain(block, worst)) worst = block;
  }
  return worst;
}

function lessCertain(one: Block, other: Block): boolean {
  const off = (one.fromNearProbability ?? 1) - (other.fromNearProbability ?? 1);
  if (Math.abs(off) > 0.001) return off < 0;
  return intervalWidth(one) > intervalWidth(other);
}
