/** Layers from the surface down; the last goes on for ever. */
export interface Earth {
  /** m values, S/m. */
  readonly conductivity_S_per_m: ArrayLike<number>;
  /** m − 1 values, m. */
  readonly thickness_m: ArrayLike<number>;
}

const MU_0 = 4e-7 * Math.PI;
/** Ground deeper than e^(−2λz) of this exponent is not felt. */
const UNFELT = 36;

/**
 * Reflection coefficients of a layered earth at many wavenumbers (1/m), real parts then imaginary
 * ones: reflections at the interfaces brought together from the deepest one up,
 * R_j = (ρ_j + R_(j+1) e^(−2 u_j t_j)) / (1 + ρ_j R_(j+1) e^(−2 u_j t_j)), with
 * ρ_j = (u_(j−1) − u_j)/(u_(j−1) + u_j) = iωμ₀(σ_(j−1) − σ_j)/(u_(j−1) + u_j)², which keeps its digits
 * where the ground hardly conducts.
 * Source: Born & Wolf 1980, Principles of optics, 1.6.4 (a stack of films); the wavenumbers u as in
 * Wait 1982.
 */
export function reflections(
  earth: Earth,
  frequency_Hz: number,
  wavenumber_per_m: Float64Array,
): Float64Array {
  const n = wavenumber_per_m.length;
  const layers = earth.conductivity_S_per_m.length;
  const induction = Float64Array.from(
    { length: layers },
    (_, j) => 2 * Math.PI * frequency_Hz * MU_0 * earth.conductivity_S_per_m[j]!,
  );
  const out = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) {
    const lambda = wavenumber_per_m[i]!;
    reflectionAt(lambda, { induction, thickness_m: earth.thickness_m, out, at: i });
  }
  return out;
}

interface Stack {
  /** ωμ₀σ of each layer, 1/m². */
  readonly induction: Float64Array;
  readonly thickness_m: ArrayLike<number>;
  readonly out: Float64Array;
  readonly at: number;
}

function reflectionAt(lambda: number, { induction, thickness_m, out, at }: Stack): void {
  const square = lambda * lambda;
  let re = 0;
  let im = 0;
  const deepest = deepestFelt(lambda, thickness_m);
  let [ur, ui] = wavenumber(square, induction[deepest]!);
  for (let j = deepest; j >= 0; j--) {
    const above = j === 0 ? 0 : induction[j - 1]!;
    const [vr, vi] = j === 0 ? [lambda, 0] : wavenumber(square, above);
    // i (k_above − k) / (u_above + u)²
    const sr = vr + ur;
    const si = vi + ui;
    const qr = sr * sr - si * si;
    const qi = 2 * sr * si;
    const scale = (above - induction[j]!) / (qr * qr + qi * qi);
    const pr = scale * qi;
    const pi = scale * qr;
    const dr = 1 + pr * re - pi * im;
    const di = pr * im + pi * re;
    const size = dr * dr + di * di;
    const nr = pr + re;
    const ni = pi + im;
    re = (nr * dr + ni * di) / size;
    im = (ni * dr - nr * di) / size;
    if (j > 0) {
      const t = -2 * thickness_m[j - 1]!;
      const e = Math.exp(vr * t);
      const cos = e * Math.cos(vi * t);
      const sin = e * Math.sin(vi * t);
      [re, im] = [re * cos - im * sin, re * sin + im * cos];
    }
    ur = vr;
    ui = vi;
  }
  out[at] = re;
  out[out.length / 2 + at] = im;
}

function deepestFelt(lambda: number, thickness_m: ArrayLike<number>): number {
  let exponent = 0;
  for (let j = 0; j < thickness_m.length; j++) {
    exponent += 2 * lambda * thickness_m[j]!;
    if (exponent > UNFELT) return j;
  }
  return thickness_m.length;
}

/** sqrt(λ² + ik). */
function wavenumber(square: number, k: number): readonly [number, number] {
  const re = Math.sqrt((Math.hypot(square, k) + square) / 2);
  return [re, k / (2 * re)];
}
