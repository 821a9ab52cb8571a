import { passes, respaced, vectorKernels } from "../wasm/kernels.js";

/** Rows of A that are met by all columns before the next: they stay in the nearest cache. */
const BLOCK = 32;

/**
 * Aᵀ A of an n × m matrix, row by row, as m × m; the lower triangle is worked out and mirrored.
 *
 * @example normalMatrix(Float64Array.of(1, 2, 3, 4), 2); // [10, 14, 14, 20]
 */
export function normalMatrix(matrix: Float64Array, m: number): Float64Array {
  const kernels = vectorKernels();
  const [wide, n] = [passes(m), matrix.length / m];
  const padded = 4 * Math.ceil(n / 4);
  const [a, sum] = kernels.columns(padded * wide, m * wide) as readonly [
    Float64Array,
    Float64Array,
  ];
  a.fill(0, n * wide);
  sum.fill(0);
  respaced(matrix, a, [m, wide]);
  for (let from = 0; from < padded; from += BLOCK) {
    const at = a.byteOffset + 8 * wide * from;
    const rows = Math.min(BLOCK, padded - from);
    const sizes = [8 * wide, rows, m, 1] as const;
    kernels.run.addProductsInTurn(sum.byteOffset, 8 * wide, at, at, ...sizes);
  }
  const out = new Float64Array(m * m);
  respaced(sum, out, [wide, m]);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < i; j++) out[j * m + i] = out[i * m + j]!;
  }
  return out;
}
