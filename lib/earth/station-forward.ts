import { neighbours } from "../numerics/arrays.js";
import type { SoundingChannel } from "./channel-sensitivities.js";
import { coilKernel } from "./coil-kernel.js";

/** The response of m layers at d data, with its derivatives. */
export interface StationForward {
  readonly layers: number;
  readonly data: number;
  /** Fills `response` (d) and `jacobian` (d × m, row by datum) from ln conductivity (m). */
  evaluate(lnConductivity: Float64Array, response: Float64Array, jacobian: Float64Array): void;
}

/**
 * The response of every channel at one height, ppm, with derivatives to ln conductivity. Coil pairs
 * that several channels share (in-phase and quadrature of one) are computed once.
 */
export function stationForward(
  channels: readonly SoundingChannel[],
  top_m: Float64Array,
  height_m: number,
): StationForward {
  const pairs = new Map<string, number>();
  const unique: SoundingChannel[] = [];
  const pairOf = channels.map((channel) => {
    const key = `${channel.orientation} ${channel.separation_m} ${channel.frequency_Hz}`;
    const known = pairs.get(key);
    if (known !== undefined) return known;
    pairs.set(key, unique.length);
    return unique.push(channel) - 1;
  });
  const m = top_m.length;
  const thickness_m = Float64Array.from(neighbours([...top_m]), ([top, base]) => base - top);
  const kernel = coilKernel({ thickness_m, height_m, channels: unique });
  const out = kernel.output();
  const { jacobian: derivatives } = out;
  return {
    layers: m,
    data: channels.length,
    evaluate(lnConductivity, response, jacobian) {
      kernel.evaluate(lnConductivity, out);
      for (let d = 0; d < channels.length; d++) {
        const pair = pairOf[d]!;
        const part = channels[d]!.kind === "inphase" ? "inphase_ppm" : "quadrature_ppm";
        const own = derivatives![part];
        response[d] = out[part][pair]!;
        for (let j = 0; j < m; j++) jacobian[d * m + j] = own[pair * m + j]!;
      }
    },
  };
}
