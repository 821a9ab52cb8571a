import {
  choleskyFactor,
  choleskyLogDeterminant,
  choleskySolve,
  forwardSolve,
} from "../../numerics/algebra/cholesky.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import type { SoilMember } from "./hyperparameters.js";
import { type Likeness, likeness, type SoilPlace, weighed } from "./soil-kernel.js";

/** What a Gaussian process says of a value: mean and standard deviation. */
export interface Told {
  readonly mean: number;
  readonly sd: number;
}

/** Samples of one property, standardised to mean 0 and variance 1. */
export interface Samples {
  readonly places: readonly SoilPlace[];
  readonly value: Float64Array;
  /** Mean and standard deviation of log10 resistivity, by which it is standardised. */
  readonly middle: Told;
}

/** Prior variance of the level, and of the slope per standard deviation of log10 resistivity. */
const LEVEL = 4;
const SLOPE = 1;

/** One member with the samples taken in. */
export interface Fitted {
  readonly member: SoilMember;
  /** n standardised log10 resistivities of the samples. */
  readonly u: Float64Array;
  readonly factor: Float64Array;
  /** K⁻¹ times the values. */
  readonly solved: Float64Array;
  readonly logLikelihood: number;
  /** Slope per standard deviation of log10 resistivity. */
  readonly slope: Told;
}

/** What is alike between samples, worked out once for all members. */
export type Alike = readonly (readonly Likeness[])[];

export function alikeOf(places: readonly SoilPlace[]): Alike {
  return places.map((one) => places.map((other) => likeness(one, other)));
}

/**
 * A Gaussian process with a straight relation to log10 resistivity and the member's covariance:
 * cov = LEVEL + SLOPE u u′ + v·correlation, u standardised log10 resistivity, and on the diagonal v
 * and `slopeSquare` times the variance of u. Slices are posterior means: the true resistivity
 * scatters about them, which leaves the slope as it is and adds to the noise (Berkson 1950).
 * Source: Rasmussen & Williams 2006, equations 2.25, 2.26 and 5.8.
 */
export function fitted(samples: Samples, alike: Alike, given: Given): Fitted {
  const { places, value } = samples;
  const n = places.length;
  const { member } = given;
  const u = Float64Array.from(places, (place) => standardised(place, samples.middle));
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      const shared = member.variance * weighed(itemAt(itemAt(alike, i), j), member);
      matrix[i * n + j] = LEVEL + SLOPE * u[i]! * u[j]! + shared;
    }
    const error = given.slopeSquare * (itemAt(places, i).sd / samples.middle.sd) ** 2;
    matrix[i * n + i] = LEVEL + SLOPE * u[i]! ** 2 + member.variance + error;
  }
  const factor = choleskyFactor(matrix, n);
  const solved = choleskySolve(factor, n, value);
  const half = forwardSolve(factor, n, value);
  const square = half.reduce((sum, one) => sum + one * one, 0);
  const logLikelihood = -0.5 * (square + choleskyLogDeterminant(factor, n) + n * LN_2_PI);
  return { member, u, factor, solved, logLikelihood, slope: slopeOf(u, factor, solved) };
}

export interface Given {
  readonly member: SoilMember;
  /** Mean square of the slope, per standard deviation of log10 resistivity. */
  readonly slopeSquare: number;
}

const LN_2_PI = Math.log(2 * Math.PI);

export const standardised = (place: SoilPlace, middle: Told) =>
  (place.log10Resistivity - middle.mean) / middle.sd;

function slopeOf(u: Float64Array, factor: Float64Array, solved: Float64Array): Told {
  const half = forwardSolve(factor, u.length, u);
  const mean = SLOPE * u.reduce((sum, one, i) => sum + one * valueAt(solved, i), 0);
  const known = half.reduce((sum, one) => sum + one * one, 0);
  return { mean, sd: Math.sqrt(Math.max(0, SLOPE - SLOPE * SLOPE * known)) };
}

/** What is told of, and by what. */
interface Telling {
  readonly samples: Samples;
  readonly slopeSquare: number;
  /** n numbers to be written over: members are asked at very many places. */
  readonly work?: Float64Array;
}

/** What a member says of a sample at another place, `alike` to each of the samples. */
export function told(
  { member, u, factor, solved }: Fitted,
  at: { readonly place: SoilPlace; readonly alike: readonly Likeness[] },
  { samples, slopeSquare, work = new Float64Array(u.length) }: Telling,
): Told {
  const { middle } = samples;
  const n = u.length;
  const here = standardised(at.place, middle);
  let mean = 0;
  for (let i = 0; i < n; i++) {
    const line = LEVEL + SLOPE * here * u[i]!;
    const shared = line + member.variance * weighed(at.alike[i]!, member);
    work[i] = shared;
    mean += shared * solved[i]!;
  }
  const half = forwardSolve(factor, n, work, work);
  const error = slopeSquare * (at.place.sd / middle.sd) ** 2;
  let variance = LEVEL + SLOPE * here * here + member.variance + error;
  for (let i = 0; i < n; i++) variance -= half[i]! ** 2;
  return { mean, sd: Math.sqrt(Math.max(variance, 0)) };
}
