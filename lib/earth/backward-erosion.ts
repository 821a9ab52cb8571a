/** A pervious layer under a structure whose sand may be carried away from the exit backwards. */
export interface ErosionPath {
  /** Seepage length L under the structure, m. */
  readonly length_m: number;
  /** Thickness D of the pervious layer, m. */
  readonly aquiferThickness_m: number;
  /** Grain diameter that 70 % of the sand's mass is finer than, m. */
  readonly d70_m: number;
  readonly conductivity_m_per_s: number;
}

/** Constants of the rule; what is left out is that of the source. */
export interface ErosionConstants {
  /** Unit weights of grains and of water, kN/m³. Defaults 26.5 and 10. */
  readonly grains_kN_per_m3?: number;
  readonly water_kN_per_m3?: number;
  /** Drag factor η (White). Default 0.25. */
  readonly drag?: number;
  /** Bedding angle θ, degrees. Default 37. */
  readonly bedding_deg?: number;
  /** Kinematic viscosity of water, m²/s. Default 1.33e-6 (10 °C). */
  readonly viscosity_m2_per_s?: number;
}

/** Mean d70 of the small-scale tests, m. */
const MEAN_D70_M = 2.08e-4;
const GRAVITY_M_PER_S2 = 9.81;

/**
 * Critical head over a structure for backward erosion, m: H_c = F₁ F₂ F₃ L.
 *
 * F₁ = η (γ_s/γ_w − 1) tan θ; F₂ = d₇₀ₘ (d₇₀/d₇₀ₘ)^0.4 / (ν k L/g)^⅓; F₃ = 0.91
 * (D/L)^(0.28/((D/L)^2.8 − 1) + 0.04). At D = L the exponent is singular and F₃ is not: its limit
 * 0.91 e^0.1 is used there, and a series nearby.
 *
 * Inputs that are not above 0, and NaN, give NaN. Limits: uniform sand under a blanket without
 * cohesion of its own beneath, two-dimensional flow; fitted to d₇₀ of 0.15 to 0.43 mm. It judges
 * one mechanism and proves no safety: that is for local codes and licensed practice.
 *
 * Source: Sellmeijer, Lopéz de la Cruz, van Beek & Knoeff 2011, European Journal of Environmental
 * and Civil Engineering 15, 1139–1154.
 *
 * @example
 * criticalErosionHead({
 *   length_m: 40, aquiferThickness_m: 20, d70_m: 2e-4, conductivity_m_per_s: 1e-4,
 * }); // 3.466
 */
export function criticalErosionHead(path: ErosionPath, constants: ErosionConstants = {}): number {
  const { length_m, aquiferThickness_m, d70_m, conductivity_m_per_s } = path;
  const isPath = length_m > 0 && aquiferThickness_m > 0 && d70_m > 0 && conductivity_m_per_s > 0;
  if (!isPath) return Number.NaN;
  const { grains_kN_per_m3 = 26.5, water_kN_per_m3 = 10, drag = 0.25 } = constants;
  const { bedding_deg = 37, viscosity_m2_per_s = 1.33e-6 } = constants;
  const tangent = Math.tan((bedding_deg * Math.PI) / 180);
  const resistance = drag * (grains_kN_per_m3 / water_kN_per_m3 - 1) * tangent;
  const permeability_m2 = (viscosity_m2_per_s * conductivity_m_per_s) / GRAVITY_M_PER_S2;
  const scale = (MEAN_D70_M * (d70_m / MEAN_D70_M) ** 0.4) / Math.cbrt(permeability_m2 * length_m);
  return resistance * scale * geometryFactor(aquiferThickness_m / length_m) * length_m;
}

/** F₃ of thickness over length. */
function geometryFactor(ratio: number): number {
  const log = Math.log(ratio);
  return 0.91 * Math.exp(0.28 * decay(2.8 * log) * (1 / 2.8) + 0.04 * log);
}

/** y / (e^y − 1), 1 at y = 0. */
function decay(y: number): number {
  return Math.abs(y) < 1e-5 ? 1 - y / 2 : y / Math.expm1(y);
}
