import {
  choleskyFactor,
  choleskyLogDeterminant,
  choleskySolve,
} from "../../numerics/algebra/cholesky.js";
import { groupedBy, itemAt, valueAt } from "../../numerics/arrays.js";
import {
  type Alike,
  alikeOf,
  type Fitted,
  fitted,
  type Samples,
  type Told,
  told,
} from "./gaussian-process.js";
import { meanKernel, soilMembers } from "./hyperparameters.js";
import { likeness, type SoilKernel, type SoilPlace } from "./soil-kernel.js";

/** Values of one property at places in boreholes. */
export interface PropertySamples {
  readonly places: readonly SoilPlace[];
  /** n values on the scale on which they are modelled. */
  readonly value: Float64Array;
  /** n names of boreholes. */
  readonly borehole: readonly string[];
}

/** A property as its boreholes tell it: the mean of all members by their likelihood. */
export interface SoilModel {
  readonly kernel: SoilKernel;
  /** Change of the property with one decade of resistivity, mean and standard deviation. */
  readonly slope: Told;
  /** A sample at another place. */
  readonly at: (place: SoilPlace) => Told;
  /** The n samples, each told by the other boreholes alone. */
  readonly leftOut: readonly Told[];
  /** The same told without resistivity and place: mean and scatter of the other boreholes. */
  readonly meanOnly: readonly Told[];
}

/** Members that hold less than this share of the greatest weight are not followed. */
const LEAST_WEIGHT = 1e-3;

/**
 * The model of a property. Hyperparameters are weighed by their marginal likelihood, not set to the
 * best: few boreholes leave them open, and the intervals say so.
 */
export function soilModel(given: PropertySamples, middle: Told): SoilModel {
  const level = momentsOf(given.value);
  const scale = level.sd > 0 ? level.sd : 1;
  const value = given.value.map((one) => (one - level.mean) / scale);
  const samples: Samples = { places: given.places, value, middle };
  const alike = alikeOf(given.places);
  const first = weighted(samples, alike, 0);
  const slopeSquare = first.reduce((sum, { weight, fit }) => sum + weight * squareOf(fit.slope), 0);
  const all = weighted(samples, alike, slopeSquare);
  const followed = all.filter(({ weight }) => weight > 0);
  const back = ({ mean, sd }: Told) => ({ mean: level.mean + scale * mean, sd: scale * sd });
  const slope = mixed(followed.map(({ weight, fit }) => ({ weight, told: fit.slope })));
  const perDecade = scale / middle.sd;
  const telling = { samples, slopeSquare, work: new Float64Array(value.length) };
  return {
    kernel: meanKernel(
      all.map(({ fit }) => fit.member),
      all.map(({ weight }) => weight),
    ),
    slope: { mean: perDecade * slope.mean, sd: perDecade * slope.sd },
    at: (place) => {
      const at = { place, alike: given.places.map((other) => likeness(place, other)) };
      const tellings = followed.map(({ weight, fit }) => ({
        weight,
        told: told(fit, at, telling),
      }));
      return back(mixed(tellings));
    },
    leftOut: leftOut(samples, given.borehole, all).map(back),
    meanOnly: meanOfOthers(given),
  };
}

const squareOf = ({ mean, sd }: Told) => mean * mean + sd * sd;

interface Weighted {
  readonly fit: Fitted;
  /** 0 where it is not followed. */
  readonly weight: number;
}

function weighted(samples: Samples, alike: Alike, slopeSquare: number): readonly Weighted[] {
  const fits = soilMembers().map((member) => fitted(samples, alike, { member, slopeSquare }));
  const weights = weightsOf(fits.map(({ logLikelihood }) => logLikelihood));
  return fits.map((fit, i) => ({ fit, weight: itemAt(weights, i) }));
}

/** Weights by log likelihood, together 1; the least ones are 0. */
function weightsOf(logLikelihoods: readonly number[]): readonly number[] {
  const most = Math.max(...logLikelihoods);
  const raw = logLikelihoods.map((one) => Math.exp(one - most));
  const kept = raw.map((one) => (one < LEAST_WEIGHT ? 0 : one));
  const total = kept.reduce((sum, one) => sum + one, 0);
  return kept.map((one) => one / total);
}

/** Mean and standard deviation of a mixture. */
function mixed(parts: readonly { readonly weight: number; readonly told: Told }[]): Told {
  const mean = parts.reduce((sum, part) => sum + part.weight * part.told.mean, 0);
  const square = parts.reduce((sum, part) => sum + part.weight * squareOf(part.told), 0);
  return { mean, sd: Math.sqrt(Math.max(square - mean * mean, 0)) };
}

/**
 * Each borehole's samples by the others, exactly and without fitting again: with P = K⁻¹ cut to a
 * borehole's samples, mean = y − P⁻¹ (K⁻¹ y) and covariance = P⁻¹; the member's weight is that by
 * the other boreholes, p(y) / p(y of the borehole | the others).
 * Source: Rasmussen & Williams 2006, equation 5.12, for blocks of samples.
 */
function leftOut(
  { value }: Samples,
  borehole: readonly string[],
  all: readonly Weighted[],
): readonly Told[] {
  const n = value.length;
  const inverses = all.map(({ fit }) => inverseOf(fit.factor, n));
  const out: Told[] = new Array(n);
  const rows = Array.from({ length: n }, (_, i) => i);
  for (const own of groupedBy(rows, (i) => itemAt(borehole, i)).values()) {
    const folds = all.map(({ fit }, m) => fold(fit, itemAt(inverses, m), { own, value }));
    const weights = weightsOf(folds.map(({ othersLogLikelihood }) => othersLogLikelihood));
    for (const [k, i] of own.entries()) {
      out[i] = mixed(
        folds.map(({ tellings }, m) => ({ weight: itemAt(weights, m), told: itemAt(tellings, k) })),
      );
    }
  }
  return out;
}

function inverseOf(factor: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    const unit = new Float64Array(n);
    unit[j] = 1;
    inverse.set(choleskySolve(factor, n, unit), j * n);
  }
  return inverse;
}

/** One member's telling of one borehole's samples by the others. */
function fold(
  fit: Fitted,
  inverse: Float64Array,
  { own, value }: { readonly own: readonly number[]; readonly value: Float64Array },
) {
  const [n, k] = [value.length, own.length];
  const precision = new Float64Array(k * k);
  for (const [a, i] of own.entries()) {
    for (const [b, j] of own.entries()) precision[a * k + b] = valueAt(inverse, i * n + j);
  }
  const factor = choleskyFactor(precision, k);
  const residual = choleskySolve(
    factor,
    k,
    Float64Array.from(own, (i) => valueAt(fit.solved, i)),
  );
  const covariance = inverseOf(factor, k);
  const tellings = own.map((i, a) => ({
    mean: valueAt(value, i) - valueAt(residual, a),
    sd: Math.sqrt(valueAt(covariance, a * k + a)),
  }));
  const square = own.reduce((sum, i, a) => sum + valueAt(residual, a) * valueAt(fit.solved, i), 0);
  const ownLogLikelihood =
    -0.5 * (square - choleskyLogDeterminant(factor, k) + k * Math.log(2 * Math.PI));
  return { tellings, othersLogLikelihood: fit.logLikelihood - ownLogLikelihood };
}

function meanOfOthers({ value, borehole }: PropertySamples): readonly Told[] {
  return borehole.map((name) => momentsOf(value.filter((_, i) => borehole[i] !== name)));
}

export function momentsOf(values: ArrayLike<number>): Told {
  const n = values.length;
  let [sum, square] = [0, 0];
  for (let i = 0; i < n; i++) sum += values[i] as number;
  for (let i = 0; i < n; i++) square += ((values[i] as number) - sum / n) ** 2;
  return { mean: sum / n, sd: Math.sqrt(square / Math.max(n - 1, 1)) };
}
