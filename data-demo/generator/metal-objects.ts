import type { CampaignLabel } from "./facts.js";

/** The nine objects: what stands in the notes, and what steel is really there. */

/** A compact piece of metal, as a sphere: offset to the left, height above the crest surface. */
export interface Piece {
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly height_m: number;
  readonly radius_m: number;
  /** Set for a bar or a ring: it answers only along this unit vector (along, left, up). */
  readonly axis?: Vector;
}

export type Vector = readonly [number, number, number];

/** A bar or ring leaning in the plane of the walk, degrees from upright. */
function leaning(degrees: number): Vector {
  const angle = (degrees * Math.PI) / 180;
  return [Math.sin(angle), 0, Math.cos(angle)];
}

export interface MetalObject {
  readonly object: string;
  /** Extent of the body along the crest. */
  readonly from_m: number;
  readonly to_m: number;
  readonly noted: boolean;
  /** In the notes, but without any effect. */
  readonly silent: boolean;
  readonly campaigns: readonly CampaignLabel[];
  /** Decay time of the eddy currents. */
  readonly decay_s: number;
  /** Induced magnetisation at low frequency, as a share of a perfect sphere's. */
  readonly magnetic: number;
  readonly pieces: readonly Piece[];
}

const BOTH: readonly CampaignLabel[] = ["2031-10", "2032-03"];

/** Pieces on a line across the crest: pipes, cables, bars. */
function across(
  chainage_m: number,
  body: Omit<Piece, "chainage_m" | "offset_m"> & { readonly reach_m: number },
): readonly Piece[] {
  const { reach_m, ...piece } = body;
  const count = Math.round(reach_m / 0.4);
  return Array.from({ length: 2 * count + 1 }, (_, k) => {
    return { ...piece, chainage_m, offset_m: (k - count) * 0.4 };
  });
}

/** A row of sheet piles beside the crest, with heavier corner piles at its ends. */
function sheetPiles(from_m: number, to_m: number, offset_m: number): readonly Piece[] {
  const spacing_m = 0.6;
  const count = Math.round((to_m - from_m) / spacing_m);
  return Array.from({ length: count + 1 }, (_, k) => {
    const end = k === 0 || k === count;
    const chainage_m = from_m + k * spacing_m;
    const radius_m = end ? 0.5 : 0.25;
    const piece = { chainage_m, offset_m, height_m: -0.45, radius_m };
    return end ? { ...piece, axis: leaning(k === 0 ? 65 : -65) } : piece;
  });
}

const STEEL = Object.freeze({ decay_s: 4e-5, magnetic: 0.35 });

export const METAL_OBJECTS: readonly MetalObject[] = Object.freeze([
  {
    object: "gate",
    from_m: 128,
    to_m: 128,
    noted: true,
    silent: false,
    campaigns: BOTH,
    ...STEEL,
    pieces: [
      { chainage_m: 128, offset_m: 1.7, height_m: 0.7, radius_m: 0.26 },
      { chainage_m: 128.2, offset_m: -1.6, height_m: 0.4, radius_m: 0.42, axis: leaning(55) },
      { chainage_m: 128, offset_m: 1.4, height_m: 0.1, radius_m: 0.36, axis: leaning(-70) },
    ],
  },
  {
    object: "scrap",
    from_m: 262.5,
    to_m: 263,
    noted: false,
    silent: false,
    campaigns: BOTH,
    decay_s: 2e-5,
    magnetic: 0.3,
    pieces: [
      { chainage_m: 262.5, offset_m: 0.3, height_m: -0.4, radius_m: 0.21, axis: leaning(50) },
      { chainage_m: 263, offset_m: -0.2, height_m: -0.5, radius_m: 0.16 },
    ],
  },
  {
    object: "culvert",
    from_m: 455,
    to_m: 457,
    noted: true,
    silent: false,
    campaigns: BOTH,
    decay_s: 8e-5,
    magnetic: 0.4,
    pieces: [
      ...across(455.4, { reach_m: 1.6, height_m: -0.8, radius_m: 0.16 }),
      ...across(455.2, { reach_m: 1.6, height_m: -0.7, radius_m: 0.26, axis: leaning(60) }),
      ...across(456.8, { reach_m: 1.6, height_m: -0.7, radius_m: 0.24, axis: leaning(-75) }),
    ],
  },
  {
    object: "pipe crossing",
    from_m: 905,
    to_m: 905,
    noted: true,
    silent: false,
    campaigns: BOTH,
    ...STEEL,
    pieces: [
      ...across(905, { reach_m: 3.2, height_m: -0.7, radius_m: 0.13 }),
      ...across(905, { reach_m: 3.2, height_m: -0.7, radius_m: 0.24, axis: leaning(80) }),
    ],
  },
  {
    object: "pipe",
    from_m: 986,
    to_m: 986,
    noted: true,
    silent: true,
    campaigns: BOTH,
    ...STEEL,
    pieces: [],
  },
  {
    object: "sheet piling",
    from_m: 1262,
    to_m: 1297.4,
    noted: true,
    silent: false,
    campaigns: BOTH,
    decay_s: 6e-5,
    magnetic: 0.45,
    pieces: sheetPiles(1262, 1297.4, 1.6),
  },
  {
    object: "vehicle",
    from_m: 1560,
    to_m: 1564,
    noted: true,
    silent: false,
    campaigns: ["2032-03"],
    decay_s: 3e-5,
    magnetic: 0.25,
    pieces: [0, 1.2, 2.4, 3.6].flatMap((along) =>
      [-2.1, -3.2].map((offset_m) => {
        return { chainage_m: 1560.2 + along, offset_m, height_m: 0.6, radius_m: 0.42 };
      }),
    ),
  },
  {
    object: "chain",
    from_m: 2004,
    to_m: 2005,
    noted: false,
    silent: false,
    campaigns: BOTH,
    decay_s: 1.5e-5,
    magnetic: 0.5,
    pieces: [0, 0.5, 1].map((along) => {
      return { chainage_m: 2004 + along, offset_m: 0.5 * along, height_m: -0.35, radius_m: 0.14 };
    }),
  },
  {
    object: "cable crossing",
    from_m: 2190,
    to_m: 2190,
    noted: true,
    silent: false,
    campaigns: BOTH,
    decay_s: 2.5e-5,
    magnetic: 0.3,
    pieces: [
      ...across(2190, { reach_m: 3.2, height_m: -0.6, radius_m: 0.11 }),
      ...across(2190, { reach_m: 3.2, height_m: -0.6, radius_m: 0.19, axis: leaning(-78) }),
    ],
  },
]);
