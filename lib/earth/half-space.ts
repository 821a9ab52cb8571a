import type { CoilOrientation } from "./coil-quadrature.js";
import { MU_0 } from "./coil-reflection.js";
import type { CoilReading, Coils } from "./coil-response.js";

/** A complex number. */
type Complex = readonly [re: number, im: number];

/**
 * The response of a half-space to HCP or VCP coils on the ground, in closed form, ppm.
 *
 * With x = s sqrt(iωμ₀σ): HCP (2/x²)[9 − (9 + 9x + 4x² + x³) e^(−x)] − 1, VCP
 * 2[1 − 3/x² + (3 + 3x + x²) e^(−x)/x²] − 1: the textbook forms are the total over the primary
 * field, so 1 is taken off. Below |x| = 1 by their power series, which keeps all digits.
 *
 * `inductionNumber`: separation over skin depth, B = s sqrt(ωμ₀σ/2), 0 or above; NaN gives NaN.
 * Source: Wait 1982, Geo-electromagnetism; Keller & Frischknecht 1966; Ward & Hohmann 1988.
 *
 * @example
 * groundHalfSpace("HCP", 0.0628318530717959);
 * // { inphase_ppm: 124.65, quadrature_ppm: 1841.77 } (1 m, 10 kHz, 100 mS/m)
 */
export function groundHalfSpace(orientation: "HCP" | "VCP", inductionNumber: number): CoilReading {
  const b = inductionNumber;
  const [re, im] = b < Math.SQRT1_2 ? seriesForm(orientation, b) : closedForm(orientation, b);
  return { inphase_ppm: 1e6 * re, quadrature_ppm: 1e6 * im };
}

function closedForm(orientation: "HCP" | "VCP", b: number): Complex {
  const fade: Complex = [Math.exp(-b) * Math.cos(b), -Math.exp(-b) * Math.sin(b)];
  const x2 = 2 * b * b;
  // x = b + ib, x² = i x2, x³ = (−1 + i) b x2.
  if (orientation === "HCP") {
    const [re, im] = times([9 + 9 * b - b * x2, 9 * b + 4 * x2 + b * x2], fade);
    return [(-2 * im) / x2 - 1, (-2 * (9 - re)) / x2];
  }
  const [re, im] = times([3 + 3 * b, 3 * b + x2], fade);
  return [1 + (2 * im) / x2, (-2 * (re - 3)) / x2];
}

function seriesForm(orientation: "HCP" | "VCP", b: number): Complex {
  const polynomial = orientation === "HCP" ? [9, 9, 4, 1] : [3, 3, 1];
  const factor = orientation === "HCP" ? -2 : 2;
  let power: Complex = [b, b];
  let sum: Complex = [0, 0];
  // The terms of x⁻², x⁻¹ and x⁰ cancel; n is the power of x before the division by x².
  for (let n = 3; n < 30; n++) {
    const c = polynomial.reduce((total, p, i) => total + p * exponentialTerm(n - i), 0);
    if (n > 3) power = times(power, [b, b]);
    sum = [sum[0] + factor * c * power[0], sum[1] + factor * c * power[1]];
  }
  return sum;
}

/** The coefficient of xⁿ in e^(−x). */
function exponentialTerm(n: number): number {
  let term = 1;
  for (let k = 1; k <= n; k++) term /= -k;
  return term;
}

function times([a, b]: Complex, [c, d]: Complex): Complex {
  return [a * c - b * d, a * d + b * c];
}

/**
 * Skin depth sqrt(2/(ωμ₀σ)) = 503.2921 sqrt(ρ/f), m, of a half-space.
 * Source: Ward & Hohmann 1988.
 */
export function skinDepth(conductivity_S_per_m: number, frequency_Hz: number): number {
  return Math.sqrt(1 / (Math.PI * frequency_Hz * MU_0 * conductivity_S_per_m));
}

/**
 * The low-induction apparent conductivity 4 Im(Hs/Hp)/(ωμ₀s²), S/m, of a quadrature response.
 *
 * It is what many instruments display, and no more than a unit: on the ground over a half-space it
 * is 10 % low at an induction number of 0.094 (HCP) or 0.188 (VCP), and the coils' height is not
 * in it. Convert with `halfSpaceConductivity`.
 * Source: McNeill 1980, Technical Note 6, eq. 4.
 */
export function lowInductionConductivity(
  quadrature_ppm: number,
  coils: Pick<Coils, "separation_m" | "frequency_Hz">,
): number {
  return quadrature_ppm / lowInductionQuadrature(1, coils);
}

/** The quadrature, ppm, that an instrument displays as this low-induction conductivity, S/m. */
export function lowInductionQuadrature(
  conductivity_S_per_m: number,
  coils: Pick<Coils, "separation_m" | "frequency_Hz">,
): number {
  const omegaMu = 2 * Math.PI * coils.frequency_Hz * MU_0;
  return (1e6 / 4) * omegaMu * coils.separation_m ** 2 * conductivity_S_per_m;
}

/**
 * The share of the low-induction response that comes from below a depth of `depths` separations:
 * HCP (vertical dipoles) 1/sqrt(4z² + 1), VCP (horizontal dipoles) sqrt(4z² + 1) − 2z, PRP
 * 1 − 2z/sqrt(4z² + 1).
 *
 * On the ground the share of a layer is the difference of two values. Source: McNeill 1980,
 * Technical Note 6; for PRP Wait 1962, the same integral of λ J₁.
 *
 * @example cumulativeResponse("HCP", 0.5); // 0.707107
 */
export function cumulativeResponse(orientation: CoilOrientation, depths: number): number {
  const root = Math.sqrt(4 * depths * depths + 1);
  if (orientation === "HCP") return 1 / root;
  // sqrt(4z² + 1) − 2z without its cancellation.
  if (orientation === "VCP") return 1 / (root + 2 * depths);
  return 1 / (root * (root + 2 * depths));
}
