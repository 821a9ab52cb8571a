export type CreepSoil =
  | "very fine sand or silt"
  | "fine sand"
  | "medium sand"
  | "coarse sand"
  | "fine gravel";

/** Least creep ratio by soil: Lane 1935; Bligh 1910 (from memory; none for fine gravel). */
export const LEAST_CREEP_RATIO: Readonly<
  Record<CreepSoil, { readonly lane: number; readonly bligh: number }>
> = Object.freeze({
  "very fine sand or silt": Object.freeze({ lane: 8.5, bligh: 18 }),
  "fine sand": Object.freeze({ lane: 7, bligh: 15 }),
  "medium sand": Object.freeze({ lane: 6, bligh: Number.NaN }),
  "coarse sand": Object.freeze({ lane: 5, bligh: 12 }),
  "fine gravel": Object.freeze({ lane: 4, bligh: 9 }),
});

/** The path of seepage along the base of a structure, m. */
export interface CreepPath {
  readonly vertical_m: number;
  readonly horizontal_m: number;
  /** Difference of water levels, m. */
  readonly head_m: number;
}

/**
 * Creep ratios of a seepage path: Lane (L_v + L_h/3)/H, Bligh (L_v + L_h)/H. Rules of thumb from
 * weirs, to be compared with `LEAST_CREEP_RATIO`; a path that meets them is not thereby safe.
 * A head that is not above 0 gives NaN. Source: Lane 1935, Transactions ASCE 100; Bligh 1910.
 *
 * @example creepRatio({ vertical_m: 0, horizontal_m: 60, head_m: 4 }); // { lane: 5, bligh: 15 }
 */
export function creepRatio(path: CreepPath): { readonly lane: number; readonly bligh: number } {
  const head = path.head_m > 0 ? path.head_m : Number.NaN;
  return {
    lane: (path.vertical_m + path.horizontal_m / 3) / head,
    bligh: (path.vertical_m + path.horizontal_m) / head,
  };
}
