import type { Channel, Orientation } from "../../survey/survey.js";

/** Where a small piece of metal lies, seen from the middle of the coils, m. */
export interface MetalPlace {
  /** Along the line, in the walking direction. */
  readonly along_m: number;
  readonly aside_m: number;
  /** Below the coils; above 0. */
  readonly below_m: number;
}

/** 0 along the line, 1 across it, 2 upright. */
type Axis = 0 | 1 | 2;

const AXES: Readonly<Record<Orientation, readonly [transmitter: Axis, receiver: Axis]>> = {
  HCP: [2, 2],
  VCP: [1, 1],
  PRP: [2, 0],
};

/**
 * How strongly a small piece of metal couples the coils: the transmitter's dipole field at the
 * metal times the field that the receiver's dipole would have there (a small sphere, isotropic;
 * reciprocity). Only the shape along the line is of use; the unit is 1/m⁶. Source: Grant & West
 * 1965.
 */
export function metalCoupling(
  { orientation, separation_m }: Pick<Channel, "orientation" | "separation_m">,
  { along_m, aside_m, below_m }: MetalPlace,
): number {
  const [transmitter, receiver] = AXES[orientation];
  const at = (shift_m: number) => [along_m + shift_m, aside_m, -below_m] as const;
  const [x, y, z] = dipoleField(at(separation_m / 2), transmitter);
  const [u, v, w] = dipoleField(at(-separation_m / 2), receiver);
  return x * u + y * v + z * w;
}

type Vector = readonly [number, number, number];

/** Field of a unit dipole along `axis`, without 1/4π. */
function dipoleField(r: Vector, axis: Axis): Vector {
  const square = r[0] * r[0] + r[1] * r[1] + r[2] * r[2];
  const along = (k: Axis) => (3 * r[axis] * r[k] - (k === axis ? square : 0)) / square ** 2.5;
  return [along(0), along(1), along(2)];
}
