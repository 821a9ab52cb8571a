import { besselJ0 } from "../numerics/functions/bessel.js";
import { type Fault, StepError } from "../numerics/step-error.js";
import { checkLayerCount, checkList, POSITIVE } from "./check.js";
import { type CoilSampling, groundCut, wavenumbers } from "./coil-quadrature.js";
import { geometricFactor, type Spread, spreadFaults } from "./spread.js";

/** Layers from the surface down; the last one goes on for ever. */
export interface ResistiveEarth {
  /** Resistivity of m layers, ohm-m, above 0. */
  readonly resistivity_ohm_m: ArrayLike<number>;
  /** Thickness of all but the last, m − 1 values, m, above 0. */
  readonly thickness_m: ArrayLike<number>;
}

/**
 * The apparent resistivity, ohm-m, of a layered earth for four electrodes on its flat surface.
 *
 * ρ_a = K Σ ± V(r) with K = 2π/(1/AM − 1/BM − 1/AN + 1/BN) and 2π V(r) = ρ₁/r + ∫ (T − ρ₁)
 * J₀(λr) dλ, T the resistivity transform of the layers.
 *
 * `earth`: resistivities of m layers (ohm-m) and m − 1 thicknesses (m), surface first. `spread`:
 * positions of A, B (current) and M, N (potential) along a line, m; `Infinity` is remote, and any
 * of the four may be, so that pole–dipole and pole–pole arrays are spreads too. Nothing may be
 * missing: NaN is a fault.
 *
 * Limits: point electrodes on flat ground, layers without anisotropy. The error is below 1e-8 of
 * the largest single potential, so below 1e-6 of ρ_a unless the four potentials nearly cancel.
 * Throws StepError with every fault, a spread that measures nothing (K infinite) among them.
 *
 * Source: Koefoed 1979, Geosounding Principles 1; Telford, Geldart & Sheriff 1990, ch. 8.
 *
 * @example
 * spreadResponse(
 *   { resistivity_ohm_m: [100, 10, 100], thickness_m: [2, 5] },
 *   { a_m: 0, m_m: 5, n_m: 10, b_m: 15 },
 * ); // 26.7756
 */
export function spreadResponse(earth: ResistiveEarth, spread: Spread): number {
  const faults = [...resistiveFaults(earth), ...spreadFaults(spread)];
  if (faults.length > 0) throw new StepError("spreadResponse", faults);
  const layers = {
    resistivity_ohm_m: Float64Array.from(earth.resistivity_ohm_m),
    thickness_m: Float64Array.from(earth.thickness_m),
  };
  const { a_m, b_m, m_m, n_m } = spread;
  const extra = (from: number, to: number) => layeredExcess(layers, Math.abs(from - to));
  const difference = extra(a_m, m_m) - extra(b_m, m_m) - extra(a_m, n_m) + extra(b_m, n_m);
  return layers.resistivity_ohm_m[0]! + (geometricFactor(spread) / (2 * Math.PI)) * difference;
}

interface Layers {
  readonly resistivity_ohm_m: Float64Array;
  readonly thickness_m: Float64Array;
}

/** The transform is analytic for Re λ > 0, so the step may be wider than for coils. */
const SAMPLING: CoilSampling = Object.freeze({
  step: 0.3,
  spacing: 1.8,
  smallest: 1e-9,
  fading: 46,
  cutAt: 66,
  cutWidth: 12,
  unseen: 1e-20,
});

/** ∫ (T − ρ₁) J₀(λr) dλ, ohm: 2π times the potential of 1 A beyond that of a half-space of ρ₁. */
function layeredExcess(layers: Layers, distance_m: number): number {
  // Two remote electrodes are Infinity − Infinity apart: no distance, no potential.
  if (!(distance_m < Infinity) || layers.thickness_m.length === 0) return 0;
  // e^(−2λt) of the first layer fades like the height of coils.
  const points = wavenumbers(SAMPLING, layers.thickness_m[0]!, [distance_m]);
  let sum = 0;
  for (let i = 0; i < points.wavenumber_per_m.length; i++) {
    const wavenumber = points.wavenumber_per_m[i]!;
    const x = wavenumber * distance_m;
    const weight = points.step_per_m[i]! * besselJ0(x) * groundCut(SAMPLING, x);
    sum += weight * transformExcess(layers, wavenumber);
  }
  return sum;
}

/**
 * T − ρ₁ at one wavenumber. With k_j = (ρ_{j+1} − ρ_j)/(ρ_{j+1} + ρ_j) and P_j = R_j e^(−2λt_j),
 * R_j = (k_j + P_{j+1})/(1 + k_j P_{j+1}) from below and T = ρ₁ (1 + P₁)/(1 − P₁): the recursion
 * T_j = (T_{j+1} + ρ_j tanh λt_j)/(1 + T_{j+1} tanh(λt_j)/ρ_j) without its cancellation.
 */
function transformExcess(layers: Layers, wavenumber: number): number {
  const { resistivity_ohm_m: rho, thickness_m } = layers;
  let echo = 0;
  for (let j = thickness_m.length - 1; j >= 0; j--) {
    const k = (rho[j + 1]! - rho[j]!) / (rho[j + 1]! + rho[j]!);
    echo = ((k + echo) / (1 + k * echo)) * Math.exp(-2 * wavenumber * thickness_m[j]!);
  }
  return (2 * rho[0]! * echo) / (1 - echo);
}

export function resistiveFaults(earth: ResistiveEarth): Fault[] {
  const faults: Fault[] = [];
  checkList(faults, "earth.resistivity_ohm_m", [earth?.resistivity_ohm_m, POSITIVE]);
  checkList(faults, "earth.thickness_m", [earth?.thickness_m, POSITIVE]);
  const lists: [unknown, unknown] = [earth?.resistivity_ohm_m, earth?.thickness_m];
  checkLayerCount(faults, "earth.thickness_m", lists);
  return faults;
}
