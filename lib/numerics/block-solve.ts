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
  const { blocks, order, diagonal, below } = factor;
  for (let i = 0; i < blocks; i++) {
    const at = i * order * order;
    for (let r = 0; r < order; r++) {
      const target = (i * order + r) * c;
      const row = at + r * order;
      if (i > 0) {
        const from = (i - 1) * order * c;
        const before = row - order * order;
        for (let k = 0; k < order; k++)
          take(columns, target, [from + k * c, c, below[before + k]!]);
      }
      for (let k = 0; k < r; k++) {
        take(columns, target, [(i * order + k) * c, c, diagonal[row + k]!]);
      }
      divide(columns, target, [c, diagonal[row + r]!]);
    }
  }
}

/** Lᵀ X = Y in place: for standard normal Y, X is a draw from N(0, A⁻¹). */
export function blockBackSolve(factor: BlockFactor, columns: Float64Array, c = 1): void {
  const { blocks, order, diagonal, below } = factor;
  for (let i = blocks - 1; i >= 0; i--) {
    const at = i * order * order;
    for (let r = order - 1; r >= 0; r--) {
      const target = (i * order + r) * c;
      if (i + 1 < blocks) {
        const from = (i + 1) * order * c;
        for (let k = 0; k < order; k++) {
          take(columns, target, [from + k * c, c, below[at + k * order + r]!]);
        }
      }
      for (let k = r + 1; k < order; k++) {
        take(columns, target, [(i * order + k) * c, c, diagonal[at + k * order + r]!]);
      }
      divide(columns, target, [c, diagonal[at + r * order + r]!]);
    }
  }
}

type Source = readonly [from: number, count: number, factor: number];

function take(x: Float64Array, to: number, [from, count, factor]: Source): void {
  if (factor === 0) return;
  for (let k = 0; k < count; k++) x[to + k]! -= factor * x[from + k]!;
}

function divide(x: Float64Array, at: number, [count, by]: readonly [number, number]): void {
  for (let k = 0; k < count; k++) x[at + k]! /= by;
}
