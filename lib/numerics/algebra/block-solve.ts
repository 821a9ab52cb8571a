import type { BlockFactor } from "./block-tridiagonal.js";

/**
 * Solves L Lᵀ X = R in place for c right-hand sides at once. `columns` is (n m) × c, row by
 * unknown, so that the inner loop runs along the right-hand sides.
 */
export function blockSolve(factor: BlockFactor, columns: Float64Array, c = 1): void {
  blockForwardSolve(factor, columns, c);
  blockBackSolve(factor, columns, c);
}

/** L Y = R in place: for one column the squared length of Y is rᵀ A⁻¹ r. */
export function blockForwardSolve(factor: BlockFactor, columns: Float64Array, c = 1): void {
  if (c === 1) {
    forwardOne(factor, columns);
    return;
  }
  const { blocks, order, diagonal, below } = factor;
  for (let i = 0; i < blocks; i++) {
    const at = i * order * order;
    for (let r = 0; r < order; r++) {
      const target = (i * order + r) * c;
      const row = at + r * order;
      for (let k = i > 0 ? 0 : order; k < order; k++) {
        const by = below[row - order * order + k]!;
        if (by === 0) continue;
        const from = ((i - 1) * order + k) * c;
        for (let e = 0; e < c; e++) columns[target + e]! -= by * columns[from + e]!;
      }
      for (let k = 0; k < r; k++) {
        const by = diagonal[row + k]!;
        const from = (i * order + k) * c;
        for (let e = 0; e < c; e++) columns[target + e]! -= by * columns[from + e]!;
      }
      const pivot = diagonal[row + r]!;
      for (let e = 0; e < c; e++) columns[target + e]! /= pivot;
    }
  }
}

/** Lᵀ X = Y in place: for standard normal Y, X is a draw from N(0, A⁻¹). */
export function blockBackSolve(factor: BlockFactor, columns: Float64Array, c = 1): void {
  if (c === 1) {
    backOne(factor, columns);
    return;
  }
  const { blocks, order, diagonal, below } = factor;
  for (let i = blocks - 1; i >= 0; i--) {
    const at = i * order * order;
    for (let r = order - 1; r >= 0; r--) {
      const target = (i * order + r) * c;
      for (let k = i + 1 < blocks ? 0 : order; k < order; k++) {
        const by = below[at + k * order + r]!;
        if (by === 0) continue;
        const from = ((i + 1) * order + k) * c;
        for (let e = 0; e < c; e++) columns[target + e]! -= by * columns[from + e]!;
      }
      for (let k = r + 1; k < order; k++) {
        const by = diagonal[at + k * order + r]!;
        const from = (i * order + k) * c;
        for (let e = 0; e < c; e++) columns[target + e]! -= by * columns[from + e]!;
      }
      const pivot = diagonal[at + r * order + r]!;
      for (let e = 0; e < c; e++) columns[target + e]! /= pivot;
    }
  }
}

function forwardOne({ blocks, order, diagonal, below }: BlockFactor, x: Float64Array): void {
  const size = order * order;
  for (let i = 0; i < blocks; i++) {
    const own = i * order;
    for (let r = 0; r < order; r++) {
      const row = i * size + r * order;
      let sum = x[own + r]!;
      if (i > 0) {
        for (let k = 0; k < order; k++) sum -= below[row - size + k]! * x[own - order + k]!;
      }
      for (let k = 0; k < r; k++) sum -= diagonal[row + k]! * x[own + k]!;
      x[own + r] = sum / diagonal[row + r]!;
    }
  }
}

/** From the last unknown up: each, once known, is taken out of those before it, row by row. */
function backOne({ blocks, order, diagonal, below }: BlockFactor, x: Float64Array): void {
  const size = order * order;
  for (let i = blocks - 1; i >= 0; i--) {
    const own = i * order;
    for (let r = order - 1; r >= 0; r--) {
      const row = i * size + r * order;
      const value = x[own + r]! / diagonal[row + r]!;
      x[own + r] = value;
      for (let k = 0; k < r; k++) x[own + k]! -= diagonal[row + k]! * value;
    }
    if (i === 0) continue;
    for (let r = 0; r < order; r++) {
      const row = (i - 1) * size + r * order;
      const value = x[own + r]!;
      for (let k = 0; k < order; k++) x[own - order + k]! -= below[row + k]! * value;
    }
  }
}
