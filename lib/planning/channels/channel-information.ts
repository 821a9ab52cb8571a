import {
  choleskyFactor,
  choleskyInverseDiagonal,
  choleskyLogDeterminant,
} from "../../numerics/cholesky.js";

/** How much c channels tell, each alone, beside the others, and together. */
export interface ChannelInformation {
  /** Nats that each channel gives where it is the only one. */
  readonly alone: Float64Array;
  /** Nats that each channel adds to all the others. */
  readonly added: Float64Array;
  /** 1 − added / alone: the share that the others tell as well, 0 to 1. */
  readonly shared: Float64Array;
  /** Nats of all channels together. */
  readonly together: number;
  /** Independent levels: the trace of K (I + K)⁻¹. */
  readonly levels: number;
}

/**
 * Information of channels about a ground with a Gaussian prior, for a linear response with
 * independent Gaussian noise: with K = G Gᵀ and G the derivatives over the noise times the prior's
 * factor, a channel alone gives ½ ln(1 + K_cc), all together ½ ln det(I + K), and one beside the
 * others −½ ln ((I + K)⁻¹)_cc.
 *
 * `whitened`: c × m row by channel, G. Source: Rodgers 2000, Inverse Methods for Atmospheric
 * Sounding, sections 2.4 and 2.5 (information content, degrees of freedom; from memory).
 */
export function channelInformation(whitened: Float64Array, c: number): ChannelInformation {
  const m = whitened.length / c;
  const matrix = new Float64Array(c * c);
  for (let i = 0; i < c; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = i === j ? 1 : 0;
      for (let k = 0; k < m; k++) sum += whitened[i * m + k]! * whitened[j * m + k]!;
      matrix[i * c + j] = sum;
      matrix[j * c + i] = sum;
    }
  }
  const factor = choleskyFactor(matrix, c);
  const inverse = choleskyInverseDiagonal(factor, c);
  const alone = inverse.map((_, i) => 0.5 * Math.log(matrix[i * c + i]!));
  const added = inverse.map((value) => Math.max(0, -0.5 * Math.log(value)));
  return {
    alone,
    added,
    shared: added.map((value, i) =>
      alone[i]! > 0 ? Math.min(1, Math.max(0, 1 - value / alone[i]!)) : 0,
    ),
    together: 0.5 * choleskyLogDeterminant(factor, c),
    levels: inverse.reduce((sum, value) => sum + 1 - value, 0),
  };
}
