import { besselJ0, besselJ1 } from "../numerics/functions/bessel.js";
import { erfc } from "../numerics/statistics/normal.js";

/** HCP: both coils horizontal; VCP: both vertical in one plane; PRP: one of each. */
export type CoilOrientation = "HCP" | "VCP" | "PRP";

/** How finely the wavenumber integral of a coil pair is sampled. */
export interface CoilSampling {
  /** Step of the trapezoidal rule in y, where λ = bend ln(1 + e^y). */
  readonly step: number;
  /** bend × step × separation: the spacing of λs where it is even. */
  readonly spacing: number;
  /** The smallest λ, over the reach 1 / hypot(separation, 2 height). */
  readonly smallest: number;
  /** The largest 2λh: beyond it e^(−2λh) leaves nothing. */
  readonly fading: number;
  /** Centre and width, in λs, of the smooth cut that ends the oscillating part. */
  readonly cutAt: number;
  readonly cutWidth: number;
  /** What is deeper than λs with e^(−2λz) below this is left out. */
  readonly unseen: number;
}

/**
 * Relative error below 4e-9 against the closed forms over a half-space with the coils on the
 * ground, for induction numbers from 1e-4 to 100.
 */
export const FINE_SAMPLING: CoilSampling = Object.freeze({
  step: 0.25,
  spacing: 2,
  smallest: 1e-6,
  fading: 46,
  cutAt: 50,
  cutWidth: 10,
  unseen: 1e-20,
});

/** Relative error below 2e-5 up to induction numbers of 10; a third of the points from 0.3 m up. */
export const QUICK_SAMPLING: CoilSampling = Object.freeze({
  step: 0.4,
  spacing: 1.8,
  smallest: 1e-4,
  fading: 14,
  cutAt: 40,
  cutWidth: 8,
  unseen: 1e-7,
});

/** Points of the wavenumber λ, 1/m, and dλ at each. */
export interface Wavenumbers {
  readonly wavenumber_per_m: Float64Array;
  readonly step_per_m: Float64Array;
}

/**
 * Points for ∫ f(λ) dλ that serve coil pairs of one height and of the separations given.
 *
 * Trapezoidal rule after λ = bend ln(1 + e^y): logarithmic below the bend, as suits a reflection
 * coefficient (analytic for |arg λ| < 45° over a layered conductor), even above it, as suits the
 * Bessel functions. The first step holds the geometric rest below the smallest λ.
 */
export function wavenumbers(
  sampling: CoilSampling,
  height_m: number,
  separations_m: readonly number[],
): Wavenumbers {
  const { step, spacing, smallest, cutAt, cutWidth } = sampling;
  const longest = Math.max(...separations_m);
  const bend = spacing / (step * longest);
  const cutEnd = (cutAt + 5 * cutWidth) / Math.min(...separations_m);
  const first = Math.log(Math.expm1(smallest / Math.hypot(longest, 2 * height_m) / bend));
  const largest = Math.min(cutEnd, sampling.fading / (2 * height_m)) / bend;
  const last = largest > 30 ? largest : Math.log(Math.expm1(largest));
  const count = 1 + Math.floor((last - first) / step);
  const wavenumber_per_m = Float64Array.from(
    { length: count },
    (_, i) => bend * Math.log1p(Math.exp(first + i * step)),
  );
  const step_per_m = wavenumber_per_m.map((at) => -step * bend * Math.expm1(-at / bend));
  step_per_m[0]! /= -Math.expm1(-step);
  return { wavenumber_per_m, step_per_m };
}

/** A pair of coils at one height; what the response at low induction numbers asks for. */
export interface CoilGeometry {
  readonly orientation: CoilOrientation;
  /** Distance of the coils' centres, m, above 0. */
  readonly separation_m: number;
  /** Height above the ground, m, 0 or above. */
  readonly height_m: number;
}

/**
 * What a coil pair makes of the reflection coefficients at the points: weights such that the
 * response of a coil pair is Σ weight · r(λ) over the points: with x = λs, −∫ r e^(−2λh) x² J₀(x)
 * dx (HCP), −∫ r e^(−2λh) x J₁ dx (VCP), −∫ r e^(−2λh) x² J₁ dx (PRP).
 *
 * On the ground these converge only in Abel's sense; a cut by ½ erfc((x − cutAt)/cutWidth), smooth
 * over many oscillations, gives that limit with an error of about exp(−cutWidth²/4).
 */
export function coilWeights(
  points: Wavenumbers,
  sampling: CoilSampling,
  coils: CoilGeometry,
): Float64Array {
  const { separation_m: s, height_m, orientation } = coils;
  const bessel = orientation === "HCP" ? besselJ0 : besselJ1;
  return points.wavenumber_per_m.map((wavenumber, i) => {
    const x = wavenumber * s;
    const power = orientation === "VCP" ? x : x * x;
    const fade = Math.exp(-2 * wavenumber * height_m);
    return -points.step_per_m[i]! * s * power * groundCut(sampling, x) * fade * bessel(x);
  });
}

/** The smooth cut at x = λs; 1 well before it. */
export function groundCut(sampling: CoilSampling, x: number): number {
  return 0.5 * erfc((x - sampling.cutAt) / sampling.cutWidth);
}
