import { blockClasses } from "../../../lib/blocks/classes/block-classes.js";
import { segmentBlocksDefaults } from "../../../lib/blocks/options.js";
import type { BlockLevel } from "../../../lib/inventory/record/reach-record.js";
import { chance } from "../../abroad/random.js";

/** A block of known soil, and the letter that its reach by itself gives it. */
export interface MadeBlock {
  readonly id: string;
  readonly from_m: number;
  readonly to_m: number;
  readonly soil: number;
  readonly letter: string;
  readonly levels: readonly BlockLevel[];
}

const DEPTHS = [
  { top_m: 0, base_m: 1 },
  { top_m: 1, base_m: 2 },
  { top_m: 2, base_m: 4 },
] as const;

/** log10 of ohm-m by depth: clay, silty clay, sand under clay, sand. */
export const SOILS = [
  [1.15, 1.1, 1.1],
  [1.5, 1.45, 1.35],
  [1.35, 1.6, 2],
  [1.95, 2.05, 2.1],
] as const;

/**
 * Blocks of a bank. Within a soil resistivity is skewed (sandier ground reaches further than clayey),
 * uniform shifts take the place of normal ones, and every reach has water and an instrument of its
 * own: nothing of what a mixture of normal distributions assumes. A reach holds two or three soils.
 */
export function madeBlocks(seed: number, length_m: number): readonly MadeBlock[] {
  const random = chance(seed, "made blocks");
  const soils = SOILS.map((_, soil) => soil).filter(() => random.uniform() < 0.6);
  const present = soils.length > 0 ? soils : [Math.floor(SOILS.length * random.uniform())];
  const water = random.between(-0.1, 0.1);
  const count = 4 + Math.floor(6 * random.uniform());
  const plain = Array.from({ length: count }, (_, b) => {
    const soil = present[Math.floor(present.length * random.uniform())]!;
    const skewed = -0.09 * Math.log(Math.max(1e-6, random.uniform())) - 0.09;
    const sd = random.between(0.03, 0.12);
    const levels = DEPTHS.map((depths, c): BlockLevel => {
      const ground = SOILS[soil]![c]! + water + skewed + random.between(-0.1, 0.1);
      return { ...depths, log10: ground + sd * random.normal(), sd, at25: true };
    });
    const [from_m, to_m] = [(b * length_m) / count, ((b + 1) * length_m) / count];
    return { id: `B${b + 1}`, from_m, to_m, soil, levels };
  });
  const letters = blockClasses(
    plain.map(({ levels }) => ({
      level: levels.map(({ log10 }) => log10),
      variance: levels.map(({ sd }) => sd * sd),
    })),
    { classDistance: segmentBlocksDefaults.classDistance, effectiveColumns: 2 },
  );
  return plain.map((block, b) => ({ ...block, letter: letters[b]!.letter }));
}
