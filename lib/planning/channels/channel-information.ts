import { positiveDefinite } from "../../numerics/algebra/dense.js";
import { rowProducts } from "../../numerics/algebra/dot.js";

/** Information of c channels about the ground. */
export interface ChannelInformation {
  /** 1 − added / alone for each channel: the share that the others hold as well, 0 to 1. */
  readonly shared: Float64Array;
  /** Independent levels: the trace of K (I + K)⁻¹. */
  readonly levels: number;
}

/**
 * Information of channels about a ground with a Gaussian prior, for a linear response with
 * independent Gaussian noise: with K = G Gᵀ and G the derivatives over the noise times the prior's
 * factor, a channel alone gives ½ ln(1 + K_cc) nats, and beside the others −½ ln ((I + K)⁻¹)_cc.
 *
 * @param whitened - c × m row by channel, G.
 * Source: Rodgers 2000, Inverse Methods for Atmospheric Sounding, sections 2.4 and 2.5 (information
 * content, degrees of freedom; from memory).
 */
export function channelInformation(whitened: Float64Array, c: number): ChannelInformation {
  const matrix = rowProducts(whitened, c).map((value, at) => value + (at % (c + 1) === 0 ? 1 : 0));
  const inverse = positiveDefinite(matrix, c).inverseDiagonal();
  return {
    shared: inverse.map((value, i) => {
      const alone = 0.5 * Math.log(matrix[i * (c + 1)]!);
      const added = Math.max(0, -0.5 * Math.log(value));
      return alone > 0 ? Math.min(1, Math.max(0, 1 - added / alone)) : 0;
    }),
    levels: inverse.reduce((sum, value) => sum + 1 - value, 0),
  };
}
