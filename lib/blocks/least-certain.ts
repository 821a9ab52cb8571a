import type { Block } from "./blocks.js";

/** Width of the 90 % interval of a block's start, m. */
export const intervalWidth = (block: Block) => block.fromInterval_m[1] - block.fromInterval_m[0];

/** The block whose start has the widest interval; null where there is one block or none. */
export function leastCertain(blocks: readonly Block[]): Block | null {
  let worst: Block | null = null;
  for (const block of blocks.slice(1)) {
    if (worst === null || intervalWidth(block) > intervalWidth(worst)) worst = block;
  }
  return worst;
}
