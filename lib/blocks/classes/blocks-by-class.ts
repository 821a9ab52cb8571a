import { firstOf, itemAt } from "../../numerics/arrays.js";
import type { Block, BlockSlice } from "../blocks.js";

export interface ClassBlocks {
  readonly name: string;
  readonly own: readonly Block[];
  /** Log-means of the blocks' medians and points, each block counting for its stations. */
  readonly slices: readonly BlockSlice[];
}

/** The classes from conductive to resistive, "A" … "Z" before "AA". */
export function blocksByClass(blocks: readonly Block[]): readonly ClassBlocks[] {
  const names = [...new Set(blocks.map((block) => block.class))].sort(
    (one, other) => one.length - other.length || (one < other ? -1 : one > other ? 1 : 0),
  );
  return names.map((name) => {
    const own = blocks.filter((block) => block.class === name);
    return { name, own, slices: firstOf(own).resistivity_ohm_m.map((_, k) => meanSlice(own, k)) };
  });
}

function meanSlice(blocks: readonly Block[], k: number): BlockSlice {
  const slice = (block: Block) => itemAt(block.resistivity_ohm_m, k);
  const { top_m, base_m } = slice(firstOf(blocks));
  return {
    top_m,
    base_m,
    median: weightedLogMean(blocks, (block) => slice(block).median),
    p10: weightedLogMean(blocks, (block) => slice(block).p10),
    p90: weightedLogMean(blocks, (block) => slice(block).p90),
  };
}

/** The log-mean over blocks, each counting for its stations; NaN is left out. */
export function weightedLogMean(blocks: readonly Block[], value: (block: Block) => number): number {
  let sum = 0;
  let weights = 0;
  for (const block of blocks) {
    const log = Math.log(value(block));
    if (Number.isNaN(log)) continue;
    sum += block.stations * log;
    weights += block.stations;
  }
  return Math.exp(sum / weights);
}
