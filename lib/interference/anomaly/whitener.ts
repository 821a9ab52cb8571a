/** Takes vectors in noises to where noise and ground together have unit covariance, and back. */
export interface Whitener {
  /** L⁻¹ e with L Lᵀ = I + G, in the order of the channels; 0 for missing ones. */
  readonly whiten: (vector: Float64Array) => Float64Array;
  /** L⁻ᵀ w: for w = L⁻¹ e this is (I + G)⁻¹ e, what of e is put down to noise, not to ground. */
  readonly unwhiten: (white: Float64Array) => Float64Array;
  /** Trace of (I + G)⁻¹. */
  readonly freedom: number;
}

/**
 * @param covariance - c × c of the ground, in the channels' units.
 * @param sd - c noises; those of missing channels are not read.
 * @param present - 1 for the channels that take part.
 */
export function whitener(
  covariance: Float64Array,
  sd: Float64Array,
  present: Uint8Array,
): Whitener {
  const used = Array.from(present.keys()).filter((c) => present[c] === 1);
  const n = used.length;
  const root = lowerFactor(used, (a, b) => {
    const ground = covariance[a * sd.length + b]! / (sd[a]! * sd[b]!);
    return (a === b ? 1 : 0) + ground;
  });
  const whiten = (vector: Float64Array) => {
    const white = new Float64Array(sd.length);
    for (let i = 0; i < n; i++) {
      let left = vector[used[i]!]!;
      for (let j = 0; j < i; j++) left -= root[i * n + j]! * white[used[j]!]!;
      white[used[i]!] = left / root[i * n + i]!;
    }
    return white;
  };
  const unwhiten = (white: Float64Array) => {
    const vector = new Float64Array(sd.length);
    for (let i = n - 1; i >= 0; i--) {
      let left = white[used[i]!]!;
      for (let j = i + 1; j < n; j++) left -= root[j * n + i]! * vector[used[j]!]!;
      vector[used[i]!] = left / root[i * n + i]!;
    }
    return vector;
  };
  const freedom = used.reduce((trace, c) => {
    const unit = new Float64Array(sd.length);
    unit[c] = 1;
    return trace + whiten(unit).reduce((sum, value) => sum + value * value, 0);
  }, 0);
  return { whiten, unwhiten, freedom };
}

/**
 * Lower Cholesky factor, n × n by rows. I + G has no eigenvalue below 1; where noise is so small
 * that I is lost beside G, pivots are kept above 0.
 */
function lowerFactor(
  used: readonly number[],
  entry: (a: number, b: number) => number,
): Float64Array {
  const n = used.length;
  const root = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let left = entry(used[i]!, used[j]!);
      for (let k = 0; k < j; k++) left -= root[i * n + k]! * root[j * n + k]!;
      root[i * n + j] = i === j ? Math.sqrt(Math.max(left, 1e-12)) : left / root[j * n + j]!;
    }
  }
  return root;
}
