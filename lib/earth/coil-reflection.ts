import { decay } from "../numerics/functions/decay.js";

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
 * the recursion of the input impedances but keeps its digits where induction is weak. Numerator and
 * denominator are carried apart, in units of λ: u = λ v, v² = 1 + iκ, κ = k²/λ².
 * Source: Wait 1982, Geo-electromagnetism; Ward & Hohmann 1988.
 */
export function reflection(earth: InductiveEarth, wavenumber: number, out: Float64Array): void {
  const deepest = deepestSeen(earth.thickness_m, wavenumber, OUT_OF_SIGHT);
  if (work.length < (deepest + 2) * ROW) work = airOver(2 * (deepest + 2) * ROW);
  layerTerms(earth, wavenumber, deepest);
  climb(deepest, out);
}

/** κ, v and E of the air and of each layer, rewritten by every call: one row each. */
const KAPPA = 0;
const V = 1;
const E = 3;
const ROW = 5;
let work = airOver(64 * ROW);

function airOver(length: number): Float64Array {
  const rows = new Float64Array(length);
  rows[V] = 1;
  return rows;
}

/** Layer by layer what needs no neighbour: apart from the recursion, so that layers overlap. */
function layerTerms(
  { induction_per_m2, thickness_m }: InductiveEarth,
  wavenumber: number,
  deepest: number,
): void {
  const inverseSquare = 1 / (wavenumber * wavenumber);
  for (let layer = 0; layer <= deepest; layer++) {
    const to = (layer + 1) * ROW;
    const kappa = induction_per_m2[layer]! * inverseSquare;
    const square = kappa * kappa;
    let re = 1 + square * (1 / 8 - square * (5 / 128 - square * (21 / 1024)));
    let im = kappa * (1 / 2 - square * (1 / 16 - square * (7 / 256)));
    if (!(kappa < WEAK)) {
      re = Math.sqrt(0.5 + 0.5 * Math.sqrt(1 + square));
      im = kappa / (2 * re);
    }
    work[to + KAPPA] = kappa;
    work[to + V] = re;
    work[to + V + 1] = im;
    if (layer === deepest) return;
    const t = 2 * wavenumber * thickness_m[layer]!;
    const fade = decay(t * re);
    const turn = t * im;
    const turn2 = turn * turn;
    if (turn < NEAR) {
      work[to + E] = fade * (1 - turn2 * (C2 - turn2 * (C4 - turn2 * (C6 - turn2 * C8))));
      work[to + E + 1] = -fade * turn * (1 - turn2 * (C3 - turn2 * (C5 - turn2 * C7)));
    } else {
      work[to + E] = fade * Math.cos(turn);
      work[to + E + 1] = -fade * Math.sin(turn);
    }
  }
}

/** From the deepest layer up: numerator and denominator, and r at the top. */
function climb(deepest: number, out: Float64Array): void {
  // E N and D of what lies below the interface.
  let echoRe = 0;
  let echoIm = 0;
  let dRe = 1;
  let dIm = 0;
  let nRe = 0;
  let nIm = 0;
  for (let at = (deepest + 1) * ROW; at > 0; at -= ROW) {
    const above = at - ROW;
    const sumRe = work[at + V]! + work[above + V]!;
    const sumIm = work[at + V + 1]! + work[above + V + 1]!;
    const inverse = 1 / (sumRe * sumRe + sumIm * sumIm);
    const scale = (work[above + KAPPA]! - work[at + KAPPA]!) * inverse * inverse;
    const psiRe = 2 * scale * sumRe * sumIm;
    const psiIm = scale * (sumRe * sumRe - sumIm * sumIm);
    nRe = psiRe * dRe - psiIm * dIm + echoRe;
    nIm = psiRe * dIm + psiIm * dRe + echoIm;
    dRe += psiRe * echoRe - psiIm * echoIm;
    dIm += psiRe * echoIm + psiIm * echoRe;
    const size = dRe * dRe + dIm * dIm;
    if (!(size > TINY && size < 1 / TINY)) {
      const shrink = 1 / Math.sqrt(size);
      nRe *= shrink;
      nIm *= shrink;
      dRe *= shrink;
      dIm *= shrink;
    }
    const fadeRe = work[above + E]!;
    const fadeIm = work[above + E + 1]!;
    echoRe = nRe * fadeRe - nIm * fadeIm;
    echoIm = nRe * fadeIm + nIm * fadeRe;
  }
  const size = dRe * dRe + dIm * dIm;
  out[0] = (nRe * dRe + nIm * dIm) / size;
  out[1] = (nIm * dRe - nRe * dIm) / size;
}

/** Below this κ the power series of v reach 5e-10 of v − 1. */
const WEAK = 0.05;
/** Below it the power series of sine and cosine reach 2e-12. */
const NEAR = 0.3;
/** |D|² beyond this and its inverse is scaled to 1, with N: hundreds of layers would lose it. */
const TINY = 1e-100;
/** 1/n! */
const C2 = 1 / 2;
const C3 = 1 / 6;
const C4 = 1 / 24;
const C5 = 1 / 120;
const C6 = 1 / 720;
const C7 = 1 / 5040;
const C8 = 1 / 40320;

/** The index of the deepest layer that a wavenumber reaches: e^(−2λz) above e^(−foldings). */
export function deepestSeen(thickness: Float64Array, wavenumber: number, foldings: number): number {
  let depth = 0;
  for (let layer = 0; layer < thickness.length; layer++) {
    depth += thickness[layer]!;
    if (2 * wavenumber * depth > foldings) return layer;
  }
  return thickness.length;
}
