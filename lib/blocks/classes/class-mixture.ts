import { firstOf, itemAt, zipped } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";
import { nestedGroups } from "./nested-groups.js";

/** Level and error of a block in d columns; NaN where it has no value. */
export interface BlockSignature {
  readonly level: readonly number[];
  /** Variances of the levels, from the scatter within the block. */
  readonly variance: readonly number[];
}

interface MixtureOptions {
  /** Standard deviation of the blocks of one class about its level, > 0. */
  readonly within: number;
  /** Weight of one column in the likelihood, above 0 to 1: less where columns are correlated. */
  readonly columnWeight: number;
}

export interface ClassMixture {
  /** For each block, the number of its most probable class. */
  readonly member: readonly number[];
  /** The probability of that class. */
  readonly probability: readonly number[];
  /** Levels of the classes, column by column. */
  readonly centre: readonly (readonly number[])[];
  /** Bayes information criterion for 1, 2, … classes, lower is better. */
  readonly bic: readonly number[];
}

const ROUNDS = 200;

/**
 * Classes of blocks by a mixture of normal distributions: a block of class k has the level of the
 * class plus a deviation within classes plus its own error. Levels and shares of the classes come
 * from expectation–maximisation, started from complete-linkage groups; their number is that with
 * the least −2 log likelihood + (K d columnWeight + K − 1) ln b.
 *
 * Source: Fraley & Raftery 2002, Journal of the American Statistical Association 97, 611–631.
 */
export function classMixture(
  blocks: readonly BlockSignature[],
  options: MixtureOptions,
): ClassMixture {
  const groupings = nestedGroups(blocks.map(({ level }) => level));
  const fits = groupings.map((groups) => fitMixture(blocks, groups, options));
  const best = fits.reduce((one, other) => (other.bic < one.bic - 1e-9 ? other : one));
  const probability = best.share.map((row) => Math.max(...row));
  return {
    member: zipped(best.share, probability).map(([row, most]) => row.indexOf(most)),
    probability,
    centre: best.centre,
    bic: fits.map(({ bic }) => bic),
  };
}

/** Blocks × classes: probability of membership. */
type Shares = readonly (readonly number[])[];

interface Fit {
  readonly share: Shares;
  readonly centre: readonly (readonly number[])[];
  readonly bic: number;
}

function fitMixture(
  blocks: readonly BlockSignature[],
  groups: readonly (readonly number[])[],
  options: MixtureOptions,
): Fit {
  let share: Shares = blocks.map((_, i) => groups.map((group) => (group.includes(i) ? 1 : 0)));
  let centre: number[][] = [];
  let likelihood = Number.NEGATIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round++) {
    const byClass = groups.map((_, k) => share.map((row) => itemAt(row, k)));
    centre = byClass.map((shares) => centreOf(blocks, shares, options.within));
    const classes = zipped(centre, byClass.map(presentMean));
    const logs = blocks.map((block) =>
      classes.map(([level, weight]) => Math.log(weight) + logDensity(block, level, options)),
    );
    const sums = logs.map(logSum);
    share = zipped(logs, sums).map(([row, sum]) => row.map((value) => Math.exp(value - sum)));
    const before = likelihood;
    likelihood = sums.reduce((sum, value) => sum + value, 0);
    if (likelihood - before < 1e-9) break;
  }
  const d = firstOf(blocks).level.length;
  const parameters = groups.length * d * options.columnWeight + groups.length - 1;
  return { share, centre, bic: -2 * likelihood + parameters * Math.log(blocks.length) };
}

/** The level of a class, given each block's share of it. */
function centreOf(
  blocks: readonly BlockSignature[],
  shares: readonly number[],
  within: number,
): number[] {
  return firstOf(blocks).level.map((_, c) => {
    let sum = 0;
    let weights = 0;
    for (const [{ level, variance }, share] of zipped(blocks, shares)) {
      const value = itemAt(level, c);
      if (Number.isNaN(value)) continue;
      const weight = share / (within * within + itemAt(variance, c));
      sum += weight * value;
      weights += weight;
    }
    return sum / weights;
  });
}

function logDensity(
  { level, variance }: BlockSignature,
  centre: readonly number[],
  { within, columnWeight }: MixtureOptions,
): number {
  let log = 0;
  for (const [c, middle] of centre.entries()) {
    const off = itemAt(level, c) - middle;
    if (Number.isNaN(off)) continue;
    const total = within * within + itemAt(variance, c);
    log -= 0.5 * columnWeight * (Math.log(2 * Math.PI * total) + (off * off) / total);
  }
  return log;
}

function logSum(values: readonly number[]): number {
  const most = Math.max(...values);
  return most + Math.log(values.reduce((sum, value) => sum + Math.exp(value - most), 0));
}
