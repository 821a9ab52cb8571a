import { itemAt } from "../../../../numerics/arrays.js";
import type { ChannelPair } from "../channel-pair.js";
import type { GroundResponse } from "../ground-response.js";

/** Two campaigns along a line, as all that explains their difference takes them. */
export interface LineInput {
  readonly pair: ChannelPair;
  readonly response: GroundResponse;
  /** n weights by how well the ground explains each campaign's readings. */
  readonly quality: Float64Array;
  /** n × q standard deviations, ppm. */
  readonly noise: Float64Array;
  readonly level: "majority" | "none";
}

/** n × q differences less what season and stated heights make, over noise; NaN where missing. */
export function rawResiduals({ pair, response, noise }: LineInput): Float64Array {
  const q = pair.channels.length;
  const raw = new Float64Array(noise.length);
  for (let c = 0; c < q; c++) {
    const { difference } = itemAt(pair.channels, c);
    for (let i = 0, at = c; at < raw.length; i++, at += q) {
      raw[at] = (difference[i]! - response.expected[at]!) / noise[at]!;
    }
  }
  return raw;
}
