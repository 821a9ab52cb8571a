import { Matrix } from "ml-matrix";
import {
  type BlockTridiagonal,
  blockTridiagonal,
} from "../../../lib/numerics/algebra/block-tridiagonal.js";
import { seededRandom } from "../../../lib/numerics/random.js";

export const BLOCKS = 5;
export const ORDER = 3;
export const SIZE = BLOCKS * ORDER;

/**
 * A seeded matrix that is positive definite by its diagonal, with full or diagonal blocks below.
 */
export function sampleBlocks(below: "full" | "diagonal"): BlockTridiagonal {
  const random = seededRandom(below === "full" ? 3 : 4);
  const matrix = blockTridiagonal(BLOCKS, ORDER);
  for (let i = 0; i < BLOCKS; i++) {
    for (let r = 0; r < ORDER; r++) {
      for (let c = 0; c <= r; c++) {
        matrix.diagonal[(i * ORDER + r) * ORDER + c] =
          r === c ? 8 + random.uniform() : random.normal();
      }
      for (let c = 0; i + 1 < BLOCKS && c < ORDER; c++) {
        if (below === "full" || r === c) {
          matrix.below[(i * ORDER + r) * ORDER + c] = random.normal();
        }
      }
    }
  }
  return matrix;
}

/** The same matrix with all its zeros. */
export function dense(matrix: BlockTridiagonal): Matrix {
  const out = Matrix.zeros(SIZE, SIZE);
  for (let i = 0; i < BLOCKS; i++) {
    for (let r = 0; r < ORDER; r++) {
      for (let c = 0; c < ORDER; c++) {
        const [row, column] = [i * ORDER + r, i * ORDER + c];
        if (c <= r) {
          out.set(row, column, matrix.diagonal[row * ORDER + c]!);
          out.set(column, row, matrix.diagonal[row * ORDER + c]!);
        }
        if (i + 1 < BLOCKS) {
          out.set(row + ORDER, column, matrix.below[row * ORDER + c]!);
          out.set(column, row + ORDER, matrix.below[row * ORDER + c]!);
        }
      }
    }
  }
  return out;
}

/** Orders of 15 and condition numbers under 10: rounding alone, with room. */
export const ROUNDING = { absolute: 1e-12 };
