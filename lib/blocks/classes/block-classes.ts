import { firstOf, itemAt, zipped } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";
import { type BlockSignature, type ClassMixture, classMixture } from "./class-mixture.js";

interface BlockClassOptions {
  /** From this distance on two blocks are rather of two classes, decades, ≥ 0. */
  readonly classDistance: number;
  /** Effective number of independent columns. */
  readonly effectiveColumns: number;
}

interface BlockClass {
  readonly letter: string;
  /** Probability that the block belongs to the class, among the classes found. */
  readonly probability: number;
}

/**
 * Blocks apart by about this many standard deviations within a class are as well described by two
 * classes as by one: splitting three of nine blocks with two slices gains w × D² / σ² and costs
 * 2 w ln 9 for the level (w the column weight), ln 9 for the share and 3.8 for the blocks' shares.
 */
const DISTANCE_IN_SD = 3.5;

/**
 * A letter for each block: blocks of one letter are similar ground, "A" the most conductive.
 *
 * The classes are those of `classMixture` with a standard deviation within a class of
 * `classDistance` / 3.5; at 0 every block is a class of its own. They are ordered by their mean
 * log10 resistivity.
 */
export function blockClasses(
  blocks: readonly BlockSignature[],
  { classDistance, effectiveColumns }: BlockClassOptions,
): readonly BlockClass[] {
  const within = classDistance / DISTANCE_IN_SD;
  const columnWeight = effectiveColumns / firstOf(blocks).level.length;
  const { member, probability, centre } =
    classDistance > 0 ? classMixture(blocks, { within, columnWeight }) : ownClasses(blocks);
  const level = centre.map(presentMean);
  const used = [...new Set(member)].sort((one, other) => itemAt(level, one) - itemAt(level, other));
  return zipped(member, probability).map(([k, sure]) => ({
    letter: classLetter(used.indexOf(k)),
    probability: sure,
  }));
}

function ownClasses(blocks: readonly BlockSignature[]): Omit<ClassMixture, "bic"> {
  return {
    member: blocks.map((_, b) => b),
    probability: blocks.map(() => 1),
    centre: blocks.map(({ level }) => level),
  };
}

/** "A" … "Z", then "AA", "AB", …. */
function classLetter(rank: number): string {
  const last = String.fromCharCode(65 + (rank % 26));
  return rank < 26 ? last : classLetter(Math.floor(rank / 26) - 1) + last;
}
