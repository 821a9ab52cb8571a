/** Takes vectors in noises to where noise and ground together have unit covariance, and back. */
export interface Whitener {
  /**
   * L⁻¹ e with L Lᵀ = I + G, in the order of the channels; 0 for missing ones. `white` may be handed in
   * to be written over.
   */
  readonly whiten: (vector: Float64Array, white?: Float64Array) => Float64Array;
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
  const used = Int32Array.from(present.keys()).filter((c) => present[c] === 1);
  const n = used.length;
  const root = lowerFactor(used, covariance, sd);
  const whiten = (vector: Float64Array, white: Float64Array = new Float64Array(sd.length)) => {
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
  return { whiten, unwhiten, freedom: inverseTrace(root, n) };
}

/** Trace of (L Lᵀ)⁻¹: the squares of L⁻¹, column by column. */
function inverseTrace(root: Float64Array, n: number): number {
  const column = new Float64Array(n);
  let trace = 0;
  for (let c = 0; c < n; c++) {
    let squares = 0;
    for (let i = c; i < n; i++) {
      let left = i === c ? 1 : 0;
      for (let j = c; j < i; j++) left -= root[i * n + j]! * column[j]!;
      column[i] = left / root[i * n + i]!;
      squares += column[i]! * column[i]!;
    }
    trace += squares;
  }
  return trace;
}

/**
 * Lower Cholesky factor of I + G over the channels in use, n × n by rows. It has no eigenvalue below
 * 1; where noise is so small that I is lost beside G, pivots are kept above 0.
 */
function lowerFactor(used: Int32Array, covariance: Float64Array, sd: Float64Array): Float64Array {
  const n = used.length;
  const root = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const a = used[i]!;
    for (let j = 0; j <= i; j++) {
      const b = used[j]!;
      const ground = covariance[a * sd.length + b]! / (sd[a]! * sd[b]!);
      let left = (i === j ? 1 : 0) + ground;
      for (let k = 0; k < j; k++) left -= root[i * n + k]! * root[j * n + k]!;
      root[i * n + j] = i === j ? Math.sqrt(Math.max(left, 1e-12)) : left / root[j * n + j]!;
    }
  }
  return root;
}
