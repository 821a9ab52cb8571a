/** An embankment on a thin, less pervious top stratum (the blanket) over a pervious one. */
export interface BlanketSection {
  /** Waterside level over landside level, m. */
  readonly head_m: number;
  /** Blanket from the waterside toe to where water enters the pervious stratum, m, or Infinity. */
  readonly watersideLength_m: number;
  /** Width of the embankment's base, m. */
  readonly baseWidth_m: number;
  /** Thickness of the pervious stratum, m. */
  readonly aquiferThickness_m: number;
  readonly aquiferConductivity_m_per_s: number;
  readonly blanketThickness_m: number;
  readonly blanketConductivity_m_per_s: number;
  /** The blanket's landside end: none, a block of the pervious stratum, an open exit. */
  readonly landside: "infinite" | "blocked" | "open";
  /** Distance from the landside toe to that end, m; not used for "infinite". */
  readonly landsideLength_m: number;
  /** Saturated unit weight of the blanket, kN/m³. */
  readonly saturatedUnitWeight_kN_per_m3: number;
}

export interface BlanketSeepage {
  /** Effective lengths of the waterside and the landside blanket, x₁ and x₃, m. */
  readonly watersideEffective_m: number;
  readonly landsideEffective_m: number;
  /** Head under the blanket at the landside toe, over the landside level, m. */
  readonly toeHead_m: number;
  /** Upward gradient through the blanket at the toe. */
  readonly exitGradient: number;
  /** Seepage through the pervious stratum, m³/s per metre of embankment. */
  readonly seepage_m2_per_s: number;
  readonly criticalGradient: number;
  /** Critical over exit gradient. */
  readonly safety: number;
}

/** Unit weight of water, kN/m³. */
export const WATER_UNIT_WEIGHT_KN_PER_M3 = 9.81;

/**
 * Seepage under an embankment by blanket theory.
 *
 * c = sqrt(k_b/(k_f z_b d)); x₁ = tanh(c L₁)/c; x₃ = 1/c (landside infinite), 1/(c tanh c L₃)
 * (blocked), tanh(c L₃)/c (open); h₀ = H x₃/(x₁ + L₂ + x₃); i₀ = h₀/z_b; Q = k_f H d/(x₁ + L₂ +
 * x₃); i_c = (γ_sat − γ_w)/γ_w; safety = i_c/i₀. The blanket is the same on both sides.
 *
 * A length, thickness or conductivity that is not above 0 gives NaN throughout, NaN too; a head of
 * 0 or below gives no upward gradient and an infinite safety.
 *
 * Limits: steady flow, horizontal in the pervious stratum and vertical in the blanket, so k_f well
 * above k_b (ten times or more). It judges heave at the toe, not backward erosion, and it is no
 * proof of safety: that is for local codes and licensed practice.
 *
 * Source: US Army TM 3-424, 1956; Turnbull & Mansur 1961; USACE EM 1110-2-1913, Appendix B.
 *
 * @example
 * blanketSeepage({
 *   head_m: 4, watersideLength_m: 100, baseWidth_m: 30, aquiferThickness_m: 20,
 *   aquiferConductivity_m_per_s: 5e-4, blanketThickness_m: 2, blanketConductivity_m_per_s: 1e-6,
 *   landside: "infinite", landsideLength_m: Infinity, saturatedUnitWeight_kN_per_m3: 18.5,
 * }).exitGradient; // 1.0983
 */
export function blanketSeepage(section: BlanketSection): BlanketSeepage {
  const { head_m, baseWidth_m, aquiferThickness_m, blanketThickness_m } = section;
  const conductance = section.aquiferConductivity_m_per_s * aquiferThickness_m;
  const c = leakage(section);
  const watersideEffective_m = Math.tanh(c * section.watersideLength_m) / c;
  const landsideEffective_m = landsideEffective(section, c);
  const path_m = watersideEffective_m + baseWidth_m + landsideEffective_m;
  const toeHead_m = (Math.max(head_m, 0) * landsideEffective_m) / path_m;
  const exitGradient = toeHead_m / blanketThickness_m;
  const criticalGradient = section.saturatedUnitWeight_kN_per_m3 / WATER_UNIT_WEIGHT_KN_PER_M3 - 1;
  return {
    watersideEffective_m,
    landsideEffective_m,
    toeHead_m,
    exitGradient,
    seepage_m2_per_s: (conductance * Math.max(head_m, 0)) / path_m,
    criticalGradient,
    safety: criticalGradient / exitGradient,
  };
}

/** c, 1/m; NaN where the section is not one. */
function leakage(section: BlanketSection): number {
  const { landside, landsideLength_m, watersideLength_m, baseWidth_m } = section;
  const resistance =
    section.aquiferConductivity_m_per_s * section.aquiferThickness_m * section.blanketThickness_m;
  const valid =
    watersideLength_m > 0 &&
    baseWidth_m > 0 &&
    (landside === "infinite" || landsideLength_m > 0) &&
    section.aquiferThickness_m > 0 &&
    section.blanketThickness_m > 0 &&
    section.aquiferConductivity_m_per_s > 0 &&
    section.blanketConductivity_m_per_s > 0;
  return valid ? Math.sqrt(section.blanketConductivity_m_per_s / resistance) : Number.NaN;
}

function landsideEffective(section: BlanketSection, c: number): number {
  if (section.landside === "infinite") return 1 / c;
  const reach = Math.tanh(c * section.landsideLength_m);
  return section.landside === "blocked" ? 1 / (c * reach) : reach / c;
}

/**
 * The upward gradient at which soil without cohesion loses its weight: (G − 1)/(1 + e), with the
 * specific gravity of the grains and the void ratio. Boils were seen from 0.5 to 0.8 (remembered
 * from TM 3-424). Source: USACE EM 1110-2-1913.
 *
 * @example criticalGradient(2.65, 0.65); // 1
 */
export function criticalGradient(specificGravity: number, voidRatio: number): number {
  return (specificGravity - 1) / (1 + voidRatio);
}
