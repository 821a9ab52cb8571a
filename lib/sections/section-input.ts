/** A 2-D earth of rectangular cells; x along the line, depth below the surface. */
export interface SectionEarth {
  /** m + 1 ascending cell edges along the line; the first and last cells go on for ever. */
  readonly x_m: readonly number[];
  /** n + 1 ascending cell edges below the surface; the first and last rows go on for ever. */
  readonly depth_m: readonly number[];
  /** n rows by depth of m values, ohm-m, each above 0. */
  readonly resistivity_ohm_m: readonly (readonly number[])[];
}

export interface SectionElectrode {
  /** Horizontal position along the line. */
  readonly x_m: number;
  readonly elevation_m: number;
}

/** Electrode numbers from 1; 0 is remote. Current enters at a and leaves at b. */
export interface SectionSpread {
  readonly a: number;
  readonly b: number;
  readonly m: number;
  readonly n: number;
}

/** Fineness of the grid and of the transform. */
export interface SectionResponseOptions {
  /**
   * Cells per electrode spacing next to an electrode, 2 to 40; cells grow away from electrodes at a
   * rate that falls as this rises. Errors fall roughly with its square, time rises with its cube.
   */
  readonly cellsPerSpacing?: number;
  /** Step between wavenumbers in ln k, 0.4 to 1.2. */
  readonly wavenumberStep?: number;
}

export const SECTION_RESPONSE_DEFAULTS: Required<SectionResponseOptions> = Object.freeze({
  cellsPerSpacing: 3,
  wavenumberStep: 0.8,
});

/** The four distances of a spread, signed as potentials add up: AM − BM − AN + BN. */
export function spreadPairs({ a, b, m, n }: SectionSpread): readonly (readonly number[])[] {
  const pairs = [
    [a, m, 1],
    [b, m, -1],
    [a, n, -1],
    [b, n, 1],
  ];
  return pairs.filter(([current, potential]) => current !== 0 && potential !== 0);
}
