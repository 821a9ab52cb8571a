/** Levels of b blocks × d columns; NaN where a block has no value in a column. */
export interface BlockSignatures {
  readonly level: readonly (readonly number[])[];
  /** Variances of the levels, from the scatter within the block. */
  readonly variance: readonly (readonly number[])[];
}

export interface MixtureOptions {
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
export function classMixture(blocks: BlockSignatures, options: MixtureOptions): ClassMixture {
  const groupings = nestedGroups(blocks.level);
  const fits = groupings.map((groups) => fitMixture(blocks, groups, options));
  const bic = fits.map((fit) => fit.bic);
  const best = bic.reduce((at, value, k) => (value < bic[at]! - 1e-9 ? k : at), 0);
  const { share, centre } = fits[best]!;
  const member = share.map((row) => row.indexOf(Math.max(...row)));
  return { member, probability: share.map((row) => Math.max(...row)), centre, bic };
}

interface Fit {
  /** Blocks × classes: probability of membership. */
  readonly share: readonly (readonly number[])[];
  readonly centre: readonly (readonly number[])[];
  readonly bic: number;
}

function fitMixture(
  blocks: BlockSignatures,
  groups: readonly (readonly number[])[],
  options: MixtureOptions,
): Fit {
  const b = blocks.level.length;
  let share: number[][] = blocks.level.map((_, i) =>
    groups.map((group) => (group.includes(i) ? 1 : 0)),
  );
  let centre: number[][] = [];
  let likelihood = Number.NEGATIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round++) {
    centre = centresOf(blocks, share, options);
    const weight = groups.map((_, k) => share.reduce((sum, row) => sum + row[k]!, 0) / b);
    const logs = blocks.level.map((_, i) =>
      centre.map((level, k) => Math.log(weight[k]!) + logDensity(blocks, i, level, options)),
    );
    const sums = logs.map(logSum);
    share = logs.map((row, i) => row.map((value) => Math.exp(value - sums[i]!)));
    const before = likelihood;
    likelihood = sums.reduce((sum, value) => sum + value, 0);
    if (likelihood - before < 1e-9) break;
  }
  const d = blocks.level[0]!.length;
  const parameters = groups.length * d * options.columnWeight + groups.length - 1;
  return { share, centre, bic: -2 * likelihood + parameters * Math.log(b) };
}

function centresOf(
  blocks: BlockSignatures,
  share: readonly (readonly number[])[],
  { within }: MixtureOptions,
): number[][] {
  return share[0]!.map((_, k) =>
    blocks.level[0]!.map((_, c) => {
      let sum = 0;
      let weights = 0;
      for (let i = 0; i < share.length; i++) {
        const value = blocks.level[i]![c]!;
        if (Number.isNaN(value)) continue;
        const weight = share[i]![k]! / (within * within + blocks.variance[i]![c]!);
        sum += weight * value;
        weights += weight;
      }
      return sum / weights;
    }),
  );
}

function logDensity(
  { level, variance }: BlockSignatures,
  i: number,
  centre: readonly number[],
  { within, columnWeight }: MixtureOptions,
): number {
  let log = 0;
  for (let c = 0; c < centre.length; c++) {
    const off = level[i]![c]! - centre[c]!;
    if (Number.isNaN(off)) continue;
    const spread = within * within + variance[i]![c]!;
    log -= 0.5 * columnWeight * (Math.log(2 * Math.PI * spread) + (off * off) / spread);
  }
  return log;
}

function logSum(values: readonly number[]): number {
  const most = Math.max(...values);
  return most + Math.log(values.reduce((sum, value) => sum + Math.exp(value - most), 0));
}

/**
 * Groups for 1, 2, … b classes, each from the next by joining the two whose farthest members are
 * nearest (complete linkage).
 */
function nestedGroups(level: readonly (readonly number[])[]): number[][][] {
  let groups = level.map((_, i) => [i]);
  const all = [groups];
  while (groups.length > 1) {
    const [one, other] = nearestPair(groups, level);
    const joined = [...groups[one]!, ...groups[other]!];
    groups = groups.filter((_, g) => g !== one && g !== other).concat([joined]);
    all.unshift(groups);
  }
  return all;
}

function nearestPair(
  groups: readonly (readonly number[])[],
  level: readonly (readonly number[])[],
): [number, number] {
  let nearest: [number, number] = [0, 1];
  let least = Number.POSITIVE_INFINITY;
  for (let other = 1; other < groups.length; other++) {
    for (let one = 0; one < other; one++) {
      const far = Math.max(
        ...groups[one]!.flatMap((a) =>
          groups[other]!.map((b) => rmsDifference(level[a]!, level[b]!)),
        ),
      );
      if (far < least) [nearest, least] = [[one, other], far];
    }
  }
  return nearest;
}

/** Root mean square difference; columns missing in either are left out; far where all are. */
function rmsDifference(one: readonly number[], other: readonly number[]): number {
  const squares = one.map((v, c) => (v - other[c]!) ** 2).filter((v) => !Number.isNaN(v));
  if (squares.length === 0) return Number.MAX_VALUE;
  return Math.sqrt(squares.reduce((sum, value) => sum + value, 0) / squares.length);
}
