import { coilKernel } from "./coil-kernel.js";
import type { Coils, ConductiveEarth } from "./coil-response.js";
import { lowInductionQuadrature } from "./half-space.js";

/** The part of a channel that the response depends on. */
export interface SoundingChannel extends Omit<Coils, "height_m"> {
  readonly kind: "quadrature" | "inphase" | "conductivity";
}

/** c channels over one ground, ppm, with derivatives to the ln conductivity of m layers. */
export interface ChannelSensitivities {
  readonly response_ppm: Float64Array;
  /** c × m row by channel. */
  readonly byLnConductivity_ppm: Float64Array;
}

/** ppm of quadrature for one unit of the channel: 1, or that of one mS/m (McNeill 1980). */
export function ppmPerUnit(channel: SoundingChannel): number {
  return channel.kind === "conductivity" ? lowInductionQuadrature(1e-3, channel) : 1;
}

/** Responses of the channels, ppm, in-phase or quadrature by kind, and their derivatives. */
export function channelSensitivities(
  channels: readonly SoundingChannel[],
  height_m: number,
  earth: ConductiveEarth,
): ChannelSensitivities {
  const kernel = coilKernel({ thickness_m: earth.thickness_m, height_m, channels });
  const out = kernel.output();
  kernel.evaluate(Float64Array.from(earth.conductivity_S_per_m, Math.log), out);
  const m = kernel.layers;
  const partOf = (c: number) =>
    channels[c]!.kind === "inphase" ? ("inphase_ppm" as const) : ("quadrature_ppm" as const);
  return {
    response_ppm: Float64Array.from(channels, (_, c) => out[partOf(c)][c]!),
    byLnConductivity_ppm: Float64Array.from({ length: channels.length * m }, (_, at) => {
      return out.jacobian[partOf(Math.floor(at / m))][at]!;
    }),
  };
}
