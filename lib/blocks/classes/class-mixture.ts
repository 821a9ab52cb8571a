import { firstOf, zipped } from "../../numerics/arrays.js";
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
  /** Bayes information criterion for 1, 2, … classes, as far as more may be better; lower is better. */
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
  const columns = columnsOf(blocks, options);
  const most = mostLikelihood(columns);
  let best = fitMixture(columns, firstOf(groupings));
  const bic = [best.bic];
  for (const groups of groupings.slice(1)) {
    if (criterion(columns, groups.length, most) > best.bic + 1e-6) break;
    const fit = fitMixture(columns, groups);
    bic.push(fit.bic);
    if (fit.bic < best.bic - 1e-9) best = fit;
  }
  const shares = blocks.map((_, i) => [...best.share.subarray(i * best.k, (i + 1) * best.k)]);
  const probability = shares.map((row) => Math.max(...row));
  return {
    member: zipped(shares, probability).map(([row, most]) => row.indexOf(most)),
    probability,
    centre: Array.from({ length: best.k }, (_, k) => [
      ...best.centre.subarray(k * columns.d, (k + 1) * columns.d),
    ]),
    bic,
  };
}

/** A log likelihood that no number of classes exceeds: every block at the level of its own class. */
function mostLikelihood({ level, logTotal, columnWeight }: Columns): number {
  return level.reduce(
    (sum, value, at) =>
      Number.isNaN(value) ? sum : sum + Math.max(0, -0.5 * columnWeight * logTotal[at]!),
    0,
  );
}

function criterion({ b, d, columnWeight }: Columns, k: number, likelihood: number): number {
  return -2 * likelihood + (k * d * columnWeight + k - 1) * Math.log(b);
}

/** The blocks in columns: b blocks × d columns. */
interface Columns {
  readonly b: number;
  readonly d: number;
  readonly level: Float64Array;
  /** Variance of a level about its class. */
  readonly total: Float64Array;
  /** ln(2π total). */
  readonly logTotal: Float64Array;
  readonly columnWeight: number;
}

function columnsOf(
  blocks: readonly BlockSignature[],
  { within, columnWeight }: MixtureOptions,
): Columns {
  const level = Float64Array.from(blocks.flatMap((block) => block.level));
  const own = Float64Array.from(blocks.flatMap(({ variance }) => variance));
  const total = own.map((variance) => within * within + variance);
  const logTotal = total.map((variance) => Math.log(2 * Math.PI * variance));
  const [b, d] = [blocks.length, firstOf(blocks).level.length];
  return { b, d, level, total, logTotal, columnWeight };
}

interface Fit {
  /** How many classes. */
  readonly k: number;
  /** b blocks × k classes: probability of membership. */
  readonly share: Float64Array;
  /** k classes × d columns. */
  readonly centre: Float64Array;
  readonly bic: number;
}

function fitMixture(columns: Columns, groups: readonly (readonly number[])[]): Fit {
  const { b, d } = columns;
  const k = groups.length;
  const share = new Float64Array(b * k);
  for (const [g, group] of groups.entries()) for (const i of group) share[i * k + g] = 1;
  const fit = { k, share, centre: new Float64Array(k * d), logWeight: new Float64Array(k) };
  let likelihood = Number.NEGATIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round++) {
    fillClasses(columns, fit);
    const before = likelihood;
    likelihood = fillShares(columns, fit);
    if (likelihood - before < 1e-9) break;
  }
  return { k, share, centre: fit.centre, bic: criterion(columns, k, likelihood) };
}

interface Fitting extends Omit<Fit, "bic"> {
  /** k logarithms of the classes' shares of the blocks. */
  readonly logWeight: Float64Array;
}

/** The level of each class, and how common it is, given each block's share of it. */
function fillClasses(
  { b, d, level, total }: Columns,
  { k, share, centre, logWeight }: Fitting,
): void {
  for (let g = 0; g < k; g++) {
    let all = 0;
    for (let i = 0; i < b; i++) all += share[i * k + g]!;
    logWeight[g] = Math.log(all / b);
    for (let c = 0; c < d; c++) {
      let [sum, weights] = [0, 0];
      for (let at = c, i = 0; i < b; i++, at += d) {
        const value = level[at]!;
        if (Number.isNaN(value)) continue;
        const weight = share[i * k + g]! / total[at]!;
        sum += weight * value;
        weights += weight;
      }
      centre[g * d + c] = sum / weights;
    }
  }
}

/** The blocks' shares of the classes; gives the log likelihood of them all. */
function fillShares(columns: Columns, fit: Fitting): number {
  const { b } = columns;
  const { k, share, logWeight } = fit;
  let all = 0;
  for (let i = 0; i < b; i++) {
    let most = Number.NEGATIVE_INFINITY;
    for (let g = 0; g < k; g++) {
      const log = logWeight[g]! + logDensity(columns, i, { centre: fit.centre, g });
      share[i * k + g] = log;
      if (log > most) most = log;
    }
    let sum = 0;
    for (let at = i * k; at < (i + 1) * k; at++) sum += Math.exp(share[at]! - most);
    const log = most + Math.log(sum);
    for (let at = i * k; at < (i + 1) * k; at++) share[at] = Math.exp(share[at]! - log);
    all += log;
  }
  return all;
}

function logDensity(
  { d, level, total, logTotal, columnWeight }: Columns,
  i: number,
  { centre, g }: { readonly centre: Float64Array; readonly g: number },
): number {
  let log = 0;
  for (let c = 0; c < d; c++) {
    const off = level[i * d + c]! - centre[g * d + c]!;
    if (Number.isNaN(off)) continue;
    const at = i * d + c;
    log -= 0.5 * columnWeight * (logTotal[at]! + (off * off) / total[at]!);
  }
  return log;
}
