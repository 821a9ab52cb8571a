import type { CampaignLabel } from "./facts.js";
import { type Channel, COILS } from "./instrument.js";
import { METAL_OBJECTS, type MetalObject, type Piece, type Vector } from "./metal-objects.js";

/**
 * What metal adds to a reading: induced dipoles of small conducting, magnetisable spheres.
 * The response of a sphere to a uniform field: Ward & Hohmann 1988; here with one decay time.
 */

/** Parts per million of the primary field that the campaign's metal adds at a chainage. */
export function metalResponse_ppm(
  chainage_m: number,
  channel: Channel,
  campaign: CampaignLabel,
): number {
  let sum = 0;
  for (const object of METAL_OBJECTS) {
    if (!object.campaigns.includes(campaign) || !within(object, chainage_m)) continue;
    sum += objectResponse_ppm(object, chainage_m, channel);
  }
  return sum;
}

const REACH_M = 15;

function within(object: MetalObject, chainage_m: number): boolean {
  return chainage_m > object.from_m - REACH_M && chainage_m < object.to_m + REACH_M;
}

export function objectResponse_ppm(
  object: MetalObject,
  chainage_m: number,
  channel: Channel,
): number {
  const coupling = object.pieces.reduce((sum, piece) => {
    return sum + couplingOf(piece, chainage_m, channel.orientation);
  }, 0);
  return 1e6 * coupling * sphereFactor(object, channel);
}

/** In-phase or quadrature part of a sphere's polarisability over its radius cubed. */
function sphereFactor(object: MetalObject, channel: Channel): number {
  const x = 2 * Math.PI * channel.frequency_Hz * object.decay_s;
  const eddy = object.magnetic + 0.5;
  return channel.kind === "inphase"
    ? object.magnetic - (eddy * x * x) / (1 + x * x)
    : (-eddy * x) / (1 + x * x);
}

/** Radius cubed times the coupling of both coils through a dipole at the piece, per primary. */
function couplingOf(piece: Piece, chainage_m: number, orientation: "HCP" | "VCP"): number {
  const half = COILS.separation_m / 2;
  const axis: Vector = orientation === "HCP" ? [0, 0, 1] : [0, 1, 0];
  const down = piece.height_m - COILS.height_m;
  const along = piece.chainage_m - chainage_m;
  const sent = dipoleField([along + half, piece.offset_m, down], axis);
  const heard = dipoleField([along - half, piece.offset_m, down], axis);
  const through = piece.axis ? dot(sent, piece.axis) * dot(heard, piece.axis) : dot(sent, heard);
  return -((COILS.separation_m * piece.radius_m) ** 3) * through;
}

function dot(p: Vector, q: Vector): number {
  return p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
}

function dipoleField(r: Vector, axis: Vector): Vector {
  const square = r[0] * r[0] + r[1] * r[1] + r[2] * r[2];
  const scale = 1 / (square * square * Math.sqrt(square));
  const projected = 3 * dot(axis, r);
  return [
    scale * (projected * r[0] - square * axis[0]),
    scale * (projected * r[1] - square * axis[1]),
    scale * (projected * r[2] - square * axis[2]),
  ];
}
