import type { Block } from "../../blocks/blocks.js";
import { trendText } from "../../blocks/tables.js";
import { neighbours, zipped } from "../../numerics/arrays.js";
import { significantText } from "../../step/number-text.js";

/** Ninetieth over tenth percentile along a block from which it is not of one make. */
const UNEVEN = 2.5;

/** Medians this near are of like ground. */
const ALIKE = 1.1;

/**
 * Where the cut into blocks does not say what the ground does, a sentence each: blocks whose ground
 * changes though no boundary is told in them, and boundaries between like ground.
 */
export function unevenBlocks(blocks: readonly Block[]): readonly string[] {
  return [...changing(blocks), ...neighbours(blocks).flatMap(alikeText)];
}

/** A body shorter than a block has two edges, of which one at most can be a boundary. */
function alikeText([before, after]: readonly [Block, Block]): readonly string[] {
  const isAlike = zipped(before.resistivity_ohm_m, after.resistivity_ohm_m).every(
    ([one, other]) => Math.max(one.median / other.median, other.median / one.median) < ALIKE,
  );
  if (!isAlike) return [];
  return [
    `The boundary at ${after.from_m.toFixed(0)} m parts like ground. What stands there is ` +
      "likelier a body shorter than the shortest block; cut with a lower minLength_m, and look " +
      "whether readings beside it were set aside.",
  ];
}

type Told = Pick<Block, "id" | "from_m" | "to_m" | "trend" | "resistivity_ohm_m">;

/** Whether its ground changes, though no boundary is told in it. */
export const isUneven = (block: Told) => unevenText(block) !== null;

const unevenText = (block: Told) => trendText(block) ?? spreadText(block);

function changing(blocks: readonly Block[]): readonly string[] {
  return blocks.flatMap((block) => {
    const text = unevenText(block);
    const where = `${block.id} (${block.from_m.toFixed(0)}–${block.to_m.toFixed(0)} m)`;
    return text === null
      ? []
      : [`${where} is not of one make, though no boundary is told in it: it ${text}.`];
  });
}

/** "reads 15 to 124 ohm-m along it …", of the slice that changes most; null where it is even. */
function spreadText({ resistivity_ohm_m }: Told): string | null {
  const [most] = resistivity_ohm_m.toSorted((a, b) => b.p90 / b.p10 - a.p90 / a.p10);
  if (most === undefined || !(most.p90 / most.p10 > UNEVEN)) return null;
  const depths = `${most.top_m.toFixed(1)}–${most.base_m.toFixed(1)} m`;
  const [low, high] = [most.p10, most.p90].map((one) => significantText(one, 2));
  return `reads ${low} to ${high} ohm-m from place to place (eight stations in ten, at ${depths})`;
}
