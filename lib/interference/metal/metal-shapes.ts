import { lowInductionQuadrature } from "../../earth/half-space.js";
import type { Channel, Orientation } from "../../survey/survey.js";

/** Where a small piece of metal lies, seen from the middle of the coils, m. */
export interface MetalPlace {
  /** Along the line, in the walking direction. */
  readonly along_m: number;
  readonly aside_m: number;
  /** Below the coils; above 0. */
  readonly below_m: number;
}

/** Axes of sender and receiver: 0 along the line, 1 across it, 2 upright. */
const AXES: Readonly<Record<Orientation, readonly [sender: number, receiver: number]>> = {
  HCP: [2, 2],
  VCP: [1, 1],
  PRP: [2, 0],
};

/**
 * How strongly a small piece of metal couples the coils: the field of the sender, a dipole, at the
 * metal, times what a dipole there sends into the receiver (a small sphere, alike in all directions).
 * Only the shape along the line is of use; the unit is 1/m⁶.
 */
export function metalFootprint(
  { orientation, separation_m }: Pick<Channel, "orientation" | "separation_m">,
  { along_m, aside_m, below_m }: MetalPlace,
): number {
  const [sender, receiver] = AXES[orientation];
  const at = (shift_m: number) => [along_m + shift_m, aside_m, -below_m] as const;
  const sent = dipole(at(separation_m / 2), sender);
  const heard = dipole(at(-separation_m / 2), receiver);
  return sent.reduce((sum, one, k) => sum + one * heard[k]!, 0);
}

/** Field of a unit dipole along `axis`, without 1/4π. */
function dipole(r: readonly [number, number, number], axis: number): readonly number[] {
  const square = r[0] * r[0] + r[1] * r[1] + r[2] * r[2];
  return r.map((one, k) => (3 * r[axis]! * one - (k === axis ? square : 0)) / square ** 2.5);
}

/**
 * Part of a conductor's response that a channel sees, in the channel's unit up to a common factor:
 * x²/(1 + x²) in phase and x/(1 + x²) in quadrature with x = ω × decay time, of a body with one decay
 * time (Wait 1951; Grant & West 1965); a decay time of `Infinity` is a body that answers in phase only,
 * as a good conductor or magnetic iron does.
 */
export function metalSpectrum(channel: Channel, decay_s: number): number {
  const x = 2 * Math.PI * channel.frequency_Hz * decay_s;
  const inphase = x === Number.POSITIVE_INFINITY ? 1 : (x * x) / (1 + x * x);
  if (channel.kind === "inphase") return inphase;
  const quadrature = x === Number.POSITIVE_INFINITY ? 0 : x / (1 + x * x);
  return channel.unit === "ppm" ? quadrature : quadrature / lowInductionQuadrature(1e-3, channel);
}
