import { type BlockFactor, type BlockTridiagonal, blockTridiagonal } from "./block-tridiagonal.js";

/**
 * The blocks of A⁻¹ on and next to the diagonal, from the factor of A: the marginal covariances
 * where A is a precision matrix. Nothing else of the inverse is worked out; time is linear in n.
 *
 * From the last block up, with P_i = B_i L_i⁻¹: S_{i+1,i} = −S_{i+1} P_i and
 * S_i = (L_i L_iᵀ)⁻¹ − P_iᵀ S_{i+1,i}. Diagonal blocks are full, both triangles filled.
 * Source: Takahashi, Fagan & Chen 1973; Rue & Held 2005, Gaussian Markov Random Fields, 2.4.
 */
export function selectedInverse(factor: BlockFactor): BlockTridiagonal {
  const { blocks, order } = factor;
  const size = order * order;
  const inverse = blockTridiagonal(blocks, order);
  const lower = new Float64Array(size);
  const p = new Float64Array(size);
  for (let i = blocks - 1; i >= 0; i--) {
    invertLower(factor.diagonal, i * size, lower);
    const here = inverse.diagonal.subarray(i * size, (i + 1) * size);
    gram(lower, order, here);
    if (i + 1 === blocks) continue;
    timesLower(factor.below, i * size, { lower, out: p });
    const next = inverse.diagonal.subarray((i + 1) * size, (i + 2) * size);
    const cross = inverse.below.subarray(i * size, (i + 1) * size);
    minusProduct(next, p, cross);
    subtractTransposedProduct(p, cross, here);
  }
  return inverse;
}

/** The inverse of a lower triangle, into `out` (its upper triangle is left 0). */
function invertLower(factor: Float64Array, at: number, out: Float64Array): void {
  const order = Math.sqrt(out.length);
  for (let c = 0; c < order; c++) {
    for (let r = c; r < order; r++) {
      let sum = r === c ? 1 : 0;
      for (let k = c; k < r; k++) sum -= factor[at + r * order + k]! * out[k * order + c]!;
      out[r * order + c] = sum / factor[at + r * order + r]!;
    }
  }
}

/** MᵀM of a lower triangle M, full. */
function gram(lower: Float64Array, order: number, out: Float64Array): void {
  for (let a = 0; a < order; a++) {
    for (let b = 0; b <= a; b++) {
      let sum = 0;
      for (let k = a; k < order; k++) sum += lower[k * order + a]! * lower[k * order + b]!;
      out[a * order + b] = sum;
      out[b * order + a] = sum;
    }
  }
}

interface ByLower {
  readonly lower: Float64Array;
  readonly out: Float64Array;
}

/** B M with M a lower triangle. */
function timesLower(b: Float64Array, at: number, { lower, out }: ByLower): void {
  const order = Math.sqrt(lower.length);
  out.fill(0);
  for (let r = 0; r < order; r++) {
    for (let k = 0; k < order; k++) {
      const value = b[at + r * order + k]!;
      if (value === 0) continue;
      for (let c = 0; c <= k; c++) out[r * order + c]! += value * lower[k * order + c]!;
    }
  }
}

/** −S P. */
function minusProduct(s: Float64Array, p: Float64Array, out: Float64Array): void {
  const order = Math.sqrt(out.length);
  for (let r = 0; r < order; r++) {
    for (let k = 0; k < order; k++) {
      const value = s[r * order + k]!;
      for (let c = 0; c < order; c++) out[r * order + c]! -= value * p[k * order + c]!;
    }
  }
}

/** `out` − PᵀC, symmetric by construction: the lower triangle is worked out and mirrored. */
function subtractTransposedProduct(p: Float64Array, c: Float64Array, out: Float64Array): void {
  const order = Math.sqrt(out.length);
  for (let k = 0; k < order; k++) {
    for (let a = 0; a < order; a++) {
      const value = p[k * order + a]!;
      if (value === 0) continue;
      for (let b = 0; b <= a; b++) out[a * order + b]! -= value * c[k * order + b]!;
    }
  }
  for (let a = 0; a < order; a++) {
    for (let b = 0; b < a; b++) out[b * order + a] = out[a * order + b]!;
  }
}
