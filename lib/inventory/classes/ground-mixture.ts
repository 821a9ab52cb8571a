/**
 * The ground of n blocks: levels in d columns with their variances, row by row; NaN where unknown.
 */
export interface GroundSamples {
  readonly n: number;
  readonly d: number;
  readonly level: Float64Array;
  readonly variance: Float64Array;
}

/** A class of ground, column by column. */
export interface GroundClass {
  readonly share: number;
  readonly centre: readonly number[];
  /** Standard deviation of ground of the class about its centre, each column for itself. */
  readonly spread: readonly number[];
  /** Standard deviation of what all columns of a block share, such as wetter ground throughout. */
  readonly common: number;
}

export interface MixtureFit {
  readonly classes: readonly GroundClass[];
  /** n × classes, row by row: probability of membership; a row adds up to its sample's weight. */
  readonly membership: Float64Array;
  /** The sum of the samples' weights. */
  readonly total: number;
  readonly logLikelihood: number;
}

export interface Fitting {
  /** n weights; each sample counts once where left out. */
  readonly weight?: Float64Array;
  readonly rounds?: number;
}

/** Less than this is not told apart by resistivity, decades (12 %). */
export const LEAST_SPREAD = 0.05;
const ROUNDS = 100;
/** Rounds end where the mean log likelihood of a sample rises by less. */
const SETTLED = 1e-5;

/**
 * Fits a mixture of normal distributions to samples with errors of their own: a sample of class k
 * is the class's centre, plus a shift common to its columns, plus a deviation of each column, plus
 * its own error; the spreads that are found are those of the ground alone. Expectation-maximisation
 * from the classes given.
 *
 * Source: Bovy, Hogg & Roweis 2011, Annals of Applied Statistics 5, 1657–1677, with a covariance of
 * a diagonal and a common part (Rubin & Thayer 1982, Psychometrika 47, 69–76: one equal factor).
 */
export function fitMixture(
  samples: GroundSamples,
  start: readonly GroundClass[],
  { weight, rounds = ROUNDS }: Fitting = {},
): MixtureFit {
  let fit = expected(samples, start, weight);
  for (let round = 0; round < rounds; round++) {
    const classes = fit.classes.map((one, k) => renewed(samples, fit, { one, k }));
    const next = expected(samples, classes, weight);
    const rise = next.logLikelihood - fit.logLikelihood;
    fit = next;
    if (Math.abs(rise) < SETTLED * samples.n) break;
  }
  return fit;
}

function expected(
  samples: GroundSamples,
  classes: readonly GroundClass[],
  weight: Float64Array | undefined,
): MixtureFit {
  const m = classes.length;
  const membership = new Float64Array(samples.n * m);
  const logs = new Float64Array(m);
  let [logLikelihood, total] = [0, 0];
  for (let i = 0; i < samples.n; i++) {
    let most = Number.NEGATIVE_INFINITY;
    for (const [k, one] of classes.entries()) {
      logs[k] = Math.log(one.share) + logDensity(samples, i, one);
      most = Math.max(most, logs[k]!);
    }
    let sum = 0;
    for (let k = 0; k < m; k++) sum += Math.exp(logs[k]! - most);
    const own = weight?.[i] ?? 1;
    for (let k = 0; k < m; k++) membership[i * m + k] = (own * Math.exp(logs[k]! - most)) / sum;
    total += own;
    logLikelihood += own * (most + Math.log(sum));
  }
  return { classes, membership, total, logLikelihood };
}

/** Log density under a diagonal and a common part: the determinant and inverse by one division. */
function logDensity({ d, level, variance }: GroundSamples, i: number, one: GroundClass): number {
  const { centre, spread, common } = one;
  let [volume, square, precision, pull] = [1, 0, 0, 0];
  for (let c = 0; c < d; c++) {
    const off = level[i * d + c]! - centre[c]!;
    if (Number.isNaN(off)) continue;
    const total = spread[c]! * spread[c]! + variance[i * d + c]!;
    volume *= 2 * Math.PI * total;
    square += (off * off) / total;
    precision += 1 / total;
    pull += off / total;
  }
  const t2 = common * common;
  const inflated = 1 + t2 * precision;
  return -0.5 * (Math.log(volume * inflated) + square - (t2 * pull * pull) / inflated);
}

interface Renewing {
  readonly one: GroundClass;
  readonly k: number;
}

/** A weak prior of one sample of the old spread keeps a class of few samples from collapsing. */
function renewed(samples: GroundSamples, fit: MixtureFit, { one, k }: Renewing): GroundClass {
  const { n, d, level, variance } = samples;
  const m = fit.classes.length;
  const { centre, spread, common } = one;
  const [weights, sums, squares] = [new Float64Array(d), new Float64Array(d), new Float64Array(d)];
  let [members, commons] = [0, 0];
  for (let i = 0; i < n; i++) {
    const share = fit.membership[i * m + k]!;
    if (share < 1e-12) continue;
    members += share;
    const shift = commonShift(samples, i, one);
    commons += share * (shift.mean * shift.mean + shift.variance);
    for (let c = 0; c < d; c++) {
      const off = level[i * d + c]! - centre[c]!;
      if (Number.isNaN(off)) continue;
      const own = variance[i * d + c]!;
      const kept = spread[c]! ** 2 / (spread[c]! ** 2 + own);
      const deviation = kept * (off - shift.mean);
      weights[c]! += share;
      sums[c]! += share * deviation;
      squares[c]! += share * (deviation ** 2 + kept * own + kept * kept * shift.variance);
    }
  }
  const moved = centre.map((_, c) => (weights[c]! > 0 ? sums[c]! / weights[c]! : 0));
  return {
    share: Math.max(1e-9, members / fit.total),
    centre: centre.map((value, c) => value + moved[c]!),
    spread: spread.map((old, c) => {
      const square = squares[c]! - weights[c]! * moved[c]! ** 2 + old ** 2;
      return Math.max(LEAST_SPREAD, Math.sqrt(square / (weights[c]! + 1)));
    }),
    common: Math.sqrt((commons + common ** 2) / (members + 1)),
  };
}

/** The shift that all columns of a sample share, as far as they tell it. */
function commonShift({ d, level, variance }: GroundSamples, i: number, one: GroundClass) {
  const t2 = one.common * one.common;
  let [precision, pull] = [0, 0];
  for (let c = 0; c < d; c++) {
    const off = level[i * d + c]! - one.centre[c]!;
    if (Number.isNaN(off)) continue;
    const total = one.spread[c]! ** 2 + variance[i * d + c]!;
    precision += 1 / total;
    pull += off / total;
  }
  const inflated = 1 + t2 * precision;
  return { mean: (t2 * pull) / inflated, variance: t2 / inflated };
}
