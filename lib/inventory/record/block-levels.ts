import type { Block } from "../../blocks/blocks.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import { itemAt } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";
import { median } from "../../numerics/statistics/robust.js";
import { type SlicesAt25, slicesAt25 } from "../../seepage/evidence/slices-at-25.js";
import type { BlockLevel } from "./reach-record.js";

/** The seed of draws for slices that hand on none. */
const SEED = 1;

/**
 * For each block the median over its stations of log10 resistivity by slice, at 25 °C where soil
 * temperatures are known, with the standard deviation of that median over the posterior's draws:
 * what all its stations share, such as a zero that is off, is in it. A slice without an estimate in
 * the block is left out.
 */
export function blockLevels(
  given: DepthSlices,
  blocks: readonly Block[],
): readonly (readonly BlockLevel[])[] {
  const slices = slicesAt25(given, SEED);
  return blocks.map((block) => slices.slices.flatMap((_, k) => levelOf(slices, block, k)));
}

function levelOf(given: SlicesAt25, block: Block, k: number): readonly BlockLevel[] {
  const { chainage_m, mean, draws, at25 } = given;
  const from = chainage_m.findIndex((x) => x >= block.from_m);
  const past = chainage_m.findIndex((x) => x >= block.to_m);
  const within = (row: Float64Array) => row.subarray(from, past < 0 ? row.length : past);
  const log10 = from < 0 ? Number.NaN : median(within(itemAt(mean, k)));
  if (!Number.isFinite(log10)) return [];
  const { top_m, base_m } = itemAt(given.slices, k);
  const drawn = draws.map((draw) => median(within(itemAt(draw, k)))).filter(Number.isFinite);
  const middle = presentMean(drawn);
  const sd = Math.sqrt(presentMean(drawn.map((one) => (one - middle) ** 2)));
  return [{ top_m, base_m, log10: rounded(log10), sd: rounded(sd), at25 }];
}

const rounded = (value: number) => Math.round(1e5 * value) / 1e5;
