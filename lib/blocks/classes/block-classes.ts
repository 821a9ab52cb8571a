import { type BlockSignatures, classMixture } from "./class-mixture.js";

export interface BlockClassOptions {
  /** From this distance on two blocks are rather of two classes, decades, ≥ 0. */
  readonly classDistance: number;
  /** Effective number of independent columns. */
  readonly effectiveColumns: number;
}

export interface BlockClass {
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
  blocks: BlockSignatures,
  { classDistance, effectiveColumns }: BlockClassOptions,
): readonly BlockClass[] {
  const d = blocks.level[0]!.length;
  const groups =
    classDistance > 0
      ? classMixture(blocks, {
          within: classDistance / DISTANCE_IN_SD,
          columnWeight: effectiveColumns / d,
        })
      : {
          member: blocks.level.map((_, b) => b),
          probability: blocks.level.map(() => 1),
          centre: blocks.level,
        };
  const used = [...new Set(groups.member)].sort(
    (one, other) => mean(groups.centre[one]!) - mean(groups.centre[other]!),
  );
  return groups.member.map((k, b) => ({
    letter: classLetter(used.indexOf(k)),
    probability: groups.probability[b]!,
  }));
}

/** "A" … "Z", then "AA", "AB", …. */
export function classLetter(rank: number): string {
  const last = String.fromCharCode(65 + (rank % 26));
  return rank < 26 ? last : classLetter(Math.floor(rank / 26) - 1) + last;
}

function mean(values: readonly number[]): number {
  const present = values.filter((value) => !Number.isNaN(value));
  return present.reduce((sum, value) => sum + value, 0) / present.length;
}
