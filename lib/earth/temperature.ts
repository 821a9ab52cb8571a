/**
 * The factor that takes a conductivity at soil temperature T (°C) to 25 °C: 0.4470 + 1.4034
 * exp(−T/26.815). At 25 °C it is 0.99944, not exactly 1, as published.
 *
 * Below 0 °C the ground freezes and the factor has no meaning: NaN; NaN for NaN.
 * Source: Sheets & Hendrickx 1995 as corrected in Corwin & Lesch 2005; found best by Ma et al.
 * 2011.
 *
 * @example factorTo25(10); // 1.41354
 */
export function factorTo25(temperature_degC: number): number {
  if (!(temperature_degC >= 0)) return Number.NaN;
  return 0.447 + 1.4034 * Math.exp(-temperature_degC / 26.815);
}

/**
 * The same by the ratio form 1/[1 + 0.02 (T − 25)], for comparison; NaN below 0 °C.
 * Source: Corwin & Lesch 2005; Ma et al. 2011.
 *
 * @example ratioFactorTo25(25); // 1
 */
export function ratioFactorTo25(temperature_degC: number): number {
  if (!(temperature_degC >= 0)) return Number.NaN;
  return 1 / (1 + 0.02 * (temperature_degC - 25));
}
