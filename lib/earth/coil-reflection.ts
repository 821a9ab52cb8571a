/** Magnetic constant, H/m. */
export const MU_0 = 4e-7 * Math.PI;

/** What is deeper than this many e-foldings, there and back, e^−28 = 7e-13, does not show. */
const OUT_OF_SIGHT = 28;

/** A layered earth at one frequency: induction ωμ₀σ (1/m²) of m layers, m − 1 thicknesses (m). */
export interface InductiveEarth {
  readonly induction_per_m2: Float64Array;
  readonly thickness_m: Float64Array;
}

/**
 * The reflection coefficient r = (λ − U₁)/(λ + U₁) of a layered earth at wavenumber λ (1/m),
 * written to `out[0]` (real) and `out[1]` (imaginary).
 *
 * From below, R_j = (ψ_j + R_{j+1} E_{j+1}) / (1 + ψ_j R_{j+1} E_{j+1}) with E = exp(−2 u t) and
 * ψ_j = (u_j − u_{j+1})/(u_j + u_{j+1}) = i(k_j² − k_{j+1}²)/(u_j + u_{j+1})², which is the same as
 * the recursion of the input impedances but keeps its digits where induction is weak.
 * Source: Wait 1982, Geo-electromagnetism; Ward & Hohmann 1988.
 */
export function reflection(earth: InductiveEarth, wavenumber: number, out: Float64Array): void {
  const { induction_per_m2: induction, thickness_m: thickness } = earth;
  const square = wavenumber * wavenumber;
  let layer = deepestSeen(thickness, wavenumber, OUT_OF_SIGHT);
  let k = induction[layer]!;
  let uRe = rootReal(square, k);
  let uIm = k / (2 * uRe);
  let echoRe = 0;
  let echoIm = 0;
  for (; layer >= 0; layer--) {
    const kAbove = layer > 0 ? induction[layer - 1]! : 0;
    const aboveRe = rootReal(square, kAbove);
    const aboveIm = kAbove / (2 * aboveRe);
    const sumRe = uRe + aboveRe;
    const sumIm = uIm + aboveIm;
    const size = sumRe * sumRe + sumIm * sumIm;
    const scale = (kAbove - k) / (size * size);
    const psiRe = scale * 2 * sumRe * sumIm;
    const psiIm = scale * (sumRe * sumRe - sumIm * sumIm);
    const topRe = psiRe + echoRe;
    const topIm = psiIm + echoIm;
    const lowRe = 1 + psiRe * echoRe - psiIm * echoIm;
    const lowIm = psiRe * echoIm + psiIm * echoRe;
    const low = lowRe * lowRe + lowIm * lowIm;
    const rRe = (topRe * lowRe + topIm * lowIm) / low;
    const rIm = (topIm * lowRe - topRe * lowIm) / low;
    if (layer === 0) {
      out[0] = rRe;
      out[1] = rIm;
      return;
    }
    const t = 2 * thickness[layer - 1]!;
    const fade = Math.exp(-aboveRe * t);
    const turn = aboveIm * t;
    let fadeRe = fade * (1 - turn * turn * (C2 - turn * turn * (C4 - turn * turn * C6)));
    let fadeIm = -fade * turn * (1 - turn * turn * (C3 - turn * turn * (C5 - turn * turn * C7)));
    if (!(turn < NEAR)) {
      fadeRe = fade * Math.cos(turn);
      fadeIm = -fade * Math.sin(turn);
    }
    echoRe = rRe * fadeRe - rIm * fadeIm;
    echoIm = rRe * fadeIm + rIm * fadeRe;
    k = kAbove;
    uRe = aboveRe;
    uIm = aboveIm;
  }
}

/** Below it the power series of sine and cosine reach 1e-12. */
const NEAR = 0.12;
/** 1/n! */
const C2 = 1 / 2;
const C3 = 1 / 6;
const C4 = 1 / 24;
const C5 = 1 / 120;
const C6 = 1 / 720;
const C7 = 1 / 5040;

/** Real part of sqrt(square + i k); the imaginary part is k over twice that. */
export function rootReal(square: number, k: number): number {
  return Math.sqrt((Math.sqrt(square * square + k * k) + square) / 2);
}

/** The index of the deepest layer that a wavenumber reaches: e^(−2λz) above e^(−foldings). */
export function deepestSeen(thickness: Float64Array, wavenumber: number, foldings: number): number {
  let depth = 0;
  for (let layer = 0; layer < thickness.length; layer++) {
    depth += thickness[layer]!;
    if (2 * wavenumber * depth > foldings) return layer;
  }
  return thickness.length;
}
