import { itemAt, zipped } from "../../numerics/arrays.js";
import {
  fitMixture,
  type GroundClass,
  type GroundSamples,
  LEAST_SPREAD,
  type MixtureFit,
} from "./ground-mixture.js";

export interface Growth {
  /** Classes that are known already: the fit starts from them. */
  readonly known: readonly GroundClass[];
  readonly most: number;
}

/** Rises of the criterion in a row after which no more classes are tried. */
const GIVEN_UP_AFTER = 2;
/** Rounds that tell which cut promises most. */
const TRIAL_ROUNDS = 15;

/**
 * The mixture with the least −2 log likelihood + ((2 d + 2) K − 1) ln n. From the known classes (or
 * one of all samples) it grows: each class is cut in two by itself, in its columns and along what
 * they share, and the cut that gains most is fitted in full. No draws: the same samples give the
 * same.
 *
 * Source: Fraley & Raftery 2002, Journal of the American Statistical Association 97, 611–631.
 */
export function grownMixture(samples: GroundSamples, { known, most }: Growth): MixtureFit {
  const start = known.length > 0 ? known : [classOfAll(samples)];
  let fit = fitMixture(samples, start);
  let best = { fit, price: criterion(fit, samples) };
  let worse = 0;
  while (fit.classes.length < most && worse < GIVEN_UP_AFTER) {
    fit = fitMixture(samples, bestCut(samples, fit));
    const price = criterion(fit, samples);
    if (price < best.price - 1e-9) {
      best = { fit, price };
      worse = 0;
    } else worse += 1;
  }
  return best.fit;
}

function criterion({ classes, logLikelihood }: MixtureFit, { n, d }: GroundSamples): number {
  const parameters = (2 * d + 2) * classes.length - 1;
  return -2 * logLikelihood + parameters * Math.log(n);
}

function classOfAll({ n, d, level }: GroundSamples): GroundClass {
  const columns = Array.from({ length: d }, (_, c) =>
    Array.from({ length: n }, (_, i) => level[i * d + c]!).filter(Number.isFinite),
  );
  const mean = (values: readonly number[]) =>
    values.length === 0 ? 0 : values.reduce((sum, one) => sum + one, 0) / values.length;
  const centre = columns.map(mean);
  const spread = zipped(columns, centre).map(([column, middle]) => {
    return Math.max(LEAST_SPREAD, Math.sqrt(mean(column.map((one) => (one - middle) ** 2))));
  });
  return { share: 1, centre, spread, common: LEAST_SPREAD };
}

/** Each class by itself, its members by their membership: as one, and cut in two. */
function bestCut(samples: GroundSamples, fit: MixtureFit): readonly GroundClass[] {
  const m = fit.classes.length;
  const tried = fit.classes.flatMap((one, k) => {
    const share = Float64Array.from({ length: samples.n }, (_, i) => fit.membership[i * m + k]!);
    const { members, weight } = membersOf(samples, share);
    const whole = fitMixture(members, [{ ...one, share: 1 }], { weight, rounds: 1 }).logLikelihood;
    return cutsOf(one).map((parts) => {
      const cut = fitMixture(members, parts, { weight, rounds: TRIAL_ROUNDS });
      return { k, gain: cut.logLikelihood - whole, parts: cut.classes };
    });
  });
  const { k, parts } = tried.reduce((a, b) => (b.gain > a.gain ? b : a));
  const { share } = itemAt(fit.classes, k);
  const [low, high] = parts.map((part) => ({ ...part, share: part.share * share }));
  return [...fit.classes.map((one, i) => (i === k ? low! : one)), high!];
}

/** Samples that hardly belong to a class do not tell how it is cut. */
const LEAST_SHARE = 0.02;

function membersOf({ d, level, variance }: GroundSamples, share: Float64Array) {
  const rows = [...share.keys()].filter((i) => share[i]! >= LEAST_SHARE);
  const of = (values: Float64Array) =>
    Float64Array.from({ length: rows.length * d }, (_, j) => {
      return values[rows[Math.floor(j / d)]! * d + (j % d)]!;
    });
  const members = { n: rows.length, d, level: of(level), variance: of(variance) };
  return { members, weight: Float64Array.from(rows, (i) => share[i]!) };
}

/** Apart along all columns, and along each one against the others. */
function cutsOf({ centre, spread, common }: GroundClass): readonly (readonly GroundClass[])[] {
  const wide = spread.map((sd) => Math.hypot(sd, common));
  const signs = [
    centre.map(() => 1),
    ...centre.map((_, c) => centre.map((_, j) => (j === c ? 1 : 0))),
  ];
  return signs.map((way) =>
    [-1, 1].map((sign) => ({
      share: 0.5,
      centre: centre.map((middle, c) => middle + 0.8 * sign * way[c]! * wide[c]!),
      spread: spread.map((sd) => Math.max(LEAST_SPREAD, 0.7 * sd)),
      common: 0.7 * common,
    })),
  );
}
