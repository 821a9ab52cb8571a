import { ppmPerUnit } from "../../earth/channel-sensitivities.js";
import type { Channel } from "../../survey/survey.js";

/**
 * Part of a conductor's response that a channel sees, in the channel's unit up to a common factor:
 * x²/(1 + x²) in phase and x/(1 + x²) in quadrature with x = ω × decay time, of a body with one
 * decay time; a decay time of `Infinity` is a body that responds in phase only, as a good conductor
 * or magnetic iron does. Source: Wait 1951; Grant & West 1965.
 */
export function metalSpectrum(channel: Channel, decay_s: number): number {
  const x = 2 * Math.PI * channel.frequency_Hz * decay_s;
  const inphase = x === Number.POSITIVE_INFINITY ? 1 : (x * x) / (1 + x * x);
  if (channel.kind === "inphase") return inphase;
  const quadrature = x === Number.POSITIVE_INFINITY ? 0 : x / (1 + x * x);
  return quadrature / ppmPerUnit(channel);
}
