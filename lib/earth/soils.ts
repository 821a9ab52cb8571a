/** A published range of resistivities of one kind of ground. */
export interface ResistivityRange {
  readonly ground: string;
  readonly from_ohm_m: number;
  /** Equal to `from_ohm_m` where the source gives one typical value. */
  readonly to_ohm_m: number;
  readonly source: string;
}

const SOURCE = "Telford, Geldart & Sheriff 1990; Reynolds 2011, Table 7.1";
const range = (ground: string, from_ohm_m: number, to_ohm_m: number): ResistivityRange =>
  Object.freeze({ ground, from_ohm_m, to_ohm_m, source: SOURCE });

/**
 * Typical resistivities of soils. The ranges overlap: a class is named from local boreholes, never
 * from this table alone, and none of them says anything about permeability or safety.
 */
export const SOIL_RESISTIVITY: readonly ResistivityRange[] = Object.freeze([
  range("clay", 1, 100),
  range("sandy clay or clayey sand", 30, 215),
  range("sand and gravel", 30, 225),
  range("Quaternary sand", 50, 100),
  range("dry sandy soil", 80, 1050),
  range("saturated gravel", 100, 100),
  range("dry gravel", 1400, 1400),
]);

/** The kinds of ground whose published range holds a resistivity; empty for NaN. */
export function groundsAt(resistivity_ohm_m: number): readonly ResistivityRange[] {
  return SOIL_RESISTIVITY.filter(
    (entry) => entry.from_ohm_m <= resistivity_ohm_m && resistivity_ohm_m <= entry.to_ohm_m,
  );
}

export interface PoreGround {
  /** Conductivity of the pore water, S/m, above 0. */
  readonly water_S_per_m: number;
  /** Pore volume over total volume, above 0, 1 at the most. */
  readonly porosity: number;
  /** Cementation exponent m; about 1.3 for loose sand. */
  readonly cementation: number;
  /** Water over pore volume, above 0, 1 at the most. Default 1. */
  readonly saturation?: number;
  /** Saturation exponent n. Default 2. */
  readonly saturationExponent?: number;
}

/**
 * Conductivity of ground whose grains do not conduct, S/m: σ = σ_w φ^m S^n / a.
 *
 * `tortuosity` is a, default 1. Values out of their range, and NaN, give NaN. Not for clay: use
 * `waxmanSmitsConductivity`. Source: Archie 1942, Transactions AIME 146, 54–62.
 *
 * @example
 * archieConductivity({ water_S_per_m: 0.05, porosity: 0.35, cementation: 1.3 }); // 0.012772
 */
export function archieConductivity(ground: PoreGround & { readonly tortuosity?: number }): number {
  return (poreFactor(ground) * ground.water_S_per_m) / (ground.tortuosity ?? 1);
}

/**
 * Conductivity of ground with clay, S/m: σ = φ^m S^n (σ_w + B Q_v/S), B = 4.6[1 − 0.6
 * exp(−σ_w/1.3)] (S/m)/(meq/cm³), σ_w in S/m at 25 °C.
 *
 * `exchange_meq_per_cm3` is Q_v, the exchangeable cations per pore volume, 0 or above; at 0 it is
 * Archie's formula. Values out of their range, and NaN, give NaN.
 * Source: Waxman & Smits 1968, SPE Journal 8, 107–122 (the constants remembered).
 *
 * @example
 * waxmanSmitsConductivity({
 *   water_S_per_m: 0.1, porosity: 0.4, cementation: 2, exchange_meq_per_cm3: 0.2,
 * }); // 0.08142
 */
export function waxmanSmitsConductivity(
  ground: PoreGround & { readonly exchange_meq_per_cm3: number },
): number {
  const { water_S_per_m, exchange_meq_per_cm3, saturation = 1 } = ground;
  if (!(exchange_meq_per_cm3 >= 0)) return Number.NaN;
  const mobility = 4.6 * (1 - 0.6 * Math.exp(-water_S_per_m / 1.3));
  return poreFactor(ground) * (water_S_per_m + (mobility * exchange_meq_per_cm3) / saturation);
}

/** φ^m S^n; NaN out of range. */
function poreFactor(ground: PoreGround): number {
  const { water_S_per_m, porosity, cementation, saturation = 1, saturationExponent = 2 } = ground;
  const share = (value: number) => value > 0 && value <= 1;
  if (!(water_S_per_m > 0 && share(porosity) && share(saturation))) return Number.NaN;
  return porosity ** cementation * saturation ** saturationExponent;
}
