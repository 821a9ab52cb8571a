/** A symmetric block-tridiagonal matrix of n × n blocks of order m by its lower half. */
export interface BlockTridiagonal {
  /** Blocks along the diagonal, n. */
  readonly blocks: number;
  /** Order of a block, m. */
  readonly order: number;
  /** n × m × m: the diagonal blocks, each row by row; only their lower triangles are read. */
  readonly diagonal: Float64Array;
  /** (n − 1) × m × m: the blocks below the diagonal, block (i + 1, i) at i, each row by row. */
  readonly below: Float64Array;
}

/** The lower factor L: `diagonal` holds n lower triangles, `below` the blocks under them. */
export type BlockFactor = BlockTridiagonal;

export function blockTridiagonal(blocks: number, order: number): BlockTridiagonal {
  const size = order * order;
  return {
    blocks,
    order,
    diagonal: new Float64Array(blocks * size),
    below: new Float64Array(Math.max(0, blocks - 1) * size),
  };
}

/** A pivot below this share of its diagonal entry has lost all its digits. */
const LOST = 1e-14;

/**
 * Factors a symmetric positive definite block-tridiagonal matrix in place into L Lᵀ; it then holds
 * L, upper triangles of its diagonal blocks included as they were. Time and memory are linear in n.
 *
 * With A_i the diagonal blocks and E_i those below: L_i L_iᵀ = A_i − B_{i−1} B_{i−1}ᵀ and
 * B_i = E_i L_i⁻ᵀ. Leading zeros of the rows of E_i stay zeros in B_i and are skipped, so that
 * diagonal E_i cost a third. Throws a RangeError where the matrix is not positive definite to
 * working precision, NaN included. Source: Golub & Van Loan 2013, Matrix Computations, section 4.5.
 */
export function factorBlockTridiagonal(matrix: BlockTridiagonal): BlockFactor {
  const { blocks, order, diagonal, below } = matrix;
  const size = order * order;
  const first = new Int32Array(order);
  for (let i = 0; i < blocks; i++) {
    const at = i * size;
    if (i > 0) subtractOuter(diagonal, at, { rows: below, at: at - size, first });
    factorBlock(diagonal, at, order);
    if (i + 1 === blocks) break;
    for (let r = 0; r < order; r++) {
      const row = at + r * order;
      first[r] = leadingZeros(below, row, order);
      for (let c = first[r]!; c < order; c++) {
        let sum = below[row + c]!;
        for (let k = first[r]!; k < c; k++) {
          sum -= below[row + k]! * diagonal[at + c * order + k]!;
        }
        below[row + c] = sum / diagonal[at + c * order + c]!;
      }
    }
  }
  return matrix;
}

function leadingZeros(values: Float64Array, from: number, most: number): number {
  let count = 0;
  while (count < most && values[from + count] === 0) count++;
  return count;
}

interface Rows {
  readonly rows: Float64Array;
  readonly at: number;
  /** For each row, how many of its leading entries are 0. */
  readonly first: Int32Array;
}

/** Lower triangle of A − B Bᵀ. */
function subtractOuter(a: Float64Array, at: number, { rows, at: from, first }: Rows): void {
  const order = first.length;
  for (let r = 0; r < order; r++) {
    const left = from + r * order;
    for (let c = 0; c <= r; c++) {
      const right = from + c * order;
      let sum = a[at + r * order + c]!;
      for (let k = Math.max(first[r]!, first[c]!); k < order; k++) {
        sum -= rows[left + k]! * rows[right + k]!;
      }
      a[at + r * order + c] = sum;
    }
  }
}

function factorBlock(a: Float64Array, at: number, order: number): void {
  for (let r = 0; r < order; r++) {
    const row = at + r * order;
    const before = a[row + r]!;
    for (let c = 0; c <= r; c++) {
      const other = at + c * order;
      let sum = a[row + c]!;
      for (let k = 0; k < c; k++) sum -= a[row + k]! * a[other + k]!;
      if (c < r) {
        a[row + c] = sum / a[other + c]!;
        continue;
      }
      if (!(sum > LOST * before && sum < Number.POSITIVE_INFINITY)) {
        throw new RangeError(
          `the block-tridiagonal matrix is not positive definite: pivot ${r + 1} of a block is ${sum}`,
        );
      }
      a[row + c] = Math.sqrt(sum);
    }
  }
}

/** ln det A = 2 Σ ln L_ii. */
export function blockLogDeterminant({ blocks, order, diagonal }: BlockFactor): number {
  let sum = 0;
  for (let i = 0; i < blocks; i++) {
    for (let r = 0; r < order; r++) {
      sum += 2 * Math.log(diagonal[(i * order + r) * order + r]!);
    }
  }
  return sum;
}
