/** One slice at one chainage, and what the readings say of it. */
export interface SoilPlace {
  readonly chainage_m: number;
  /** Depth of the slice's middle, m. */
  readonly depth_m: number;
  /** The block's number; NaN where there are no blocks: then no two places share one. */
  readonly block: number;
  /** log10(ohm-m). */
  readonly log10Resistivity: number;
  /** Its posterior standard deviation. */
  readonly sd: number;
  /** The column of slices here and elsewhere along the bank; places without it have no other. */
  readonly column?: ColumnAlong;
}

/** Columns of all reliable slices along the bank, set side by side. */
export interface ColumnAlong {
  /**
   * How far the column departs from the one at `from_m` on the way to `to_m`, at the most: the sum
   * over slices of squared decades.
   */
  readonly departure: (from_m: number, to_m: number) => number;
}

/** Departure in decades at which the likeness of ground falls to 0.61. */
const SAME_GROUND_DECADES = 0.3;

/**
 * Likeness of the ground at a place to that at a hole, 0 to 1: the same make goes on until the
 * column of slices departs from the hole's, whether or not a block was cut there.
 */
export function sameGround(place: SoilPlace, hole: SoilPlace): number {
  if (hole.column === undefined) return place.block === hole.block ? 1 : 0;
  return alikeByGround(hole.column.departure(hole.chainage_m, place.chainage_m));
}

/** The same of a departure, squared decades. */
export const alikeByGround = (square: number) => Math.exp(-square / (2 * SAME_GROUND_DECADES ** 2));

/** Shares of a soil property's variance by what makes two places alike; together 1. */
export interface SoilKernel {
  /** Like resistivity, anywhere along the bank. */
  readonly resistivity: number;
  /** The same block. */
  readonly block: number;
  /** Nearness along chainage, whatever the block. */
  readonly near: number;
  /** The place's own: small-scale variation and the laboratory's error. */
  readonly own: number;
  /** Distance over which nearness falls to 1/e, m. */
  readonly range_m: number;
}

/** Distance in log10 resistivity over which likeness falls to 0.61: a factor of 1.6. */
const ALIKE_DECADES = 0.2;
/** Distance in depth over which what block and nearness share falls to 1/e, m. */
const ALIKE_DEPTH_M = 2;

/**
 * Correlation of a soil property between two different places, 0 to 1 − own.
 *
 * Likeness by resistivity is its mean over both places' errors, which are those of posterior means:
 * h/√(h² + s²) exp(−Δ²/2(h² + s²)) with s² = sd₁² + sd₂². Source: Girard 2004, Approximate methods
 * for propagation of uncertainty with Gaussian process models (expected kernel).
 */
export function soilCorrelation(one: SoilPlace, other: SoilPlace, kernel: SoilKernel): number {
  return weighed(likeness(one, other), kernel);
}

/** The correlation of two places that have this in common. */
export function weighed(parts: Likeness, kernel: SoilKernel): number {
  const near = nearness(parts.apart_m, kernel);
  return kernel.resistivity * parts.resistivity + parts.depth * (kernel.block * parts.block + near);
}

/** The part of the correlation that nearness makes, m apart. */
export const nearness = (apart_m: number, { near, range_m }: SoilKernel) =>
  near === 0 ? 0 : near * Math.exp(-apart_m / range_m);

/** What two places have in common, before it is weighed. */
export interface Likeness {
  readonly resistivity: number;
  readonly block: number;
  readonly depth: number;
  readonly apart_m: number;
}

export function likeness(one: SoilPlace, other: SoilPlace): Likeness {
  const away = one.log10Resistivity - other.log10Resistivity;
  return {
    resistivity: alikeByResistivity(away, one.sd, other.sd),
    block: one.block === other.block ? 1 : 0,
    depth: Math.exp(-Math.abs(one.depth_m - other.depth_m) / ALIKE_DEPTH_M),
    apart_m: Math.abs(one.chainage_m - other.chainage_m),
  };
}

/** Likeness of two places so many decades apart, each with its standard deviation. */
export function alikeByResistivity(away: number, oneSd: number, otherSd: number): number {
  const square = ALIKE_DECADES ** 2;
  const wide = square + oneSd ** 2 + otherSd ** 2;
  return Math.sqrt(square / wide) * Math.exp(-(away * away) / (2 * wide));
}
