import { itemAt } from "./arrays.js";

/**
 * The one-to-one assignment of rows to columns with the greatest total gain.
 *
 * `gain` is a table of finite numbers, its rows all of one length. Returns for each row its column,
 * or −1 where the row has none: where there are more rows than columns, or where a pairing would
 * gain nothing (0 or less).
 *
 * Source: Kuhn 1955, Naval Research Logistics Quarterly 2, 83–97; by shortest augmenting paths with
 * potentials, O(n³).
 *
 * @example greatestAssignment([[5, 9], [0, 8]]); // [0, 1]
 */
export function greatestAssignment(gain: readonly (readonly number[])[]): readonly number[] {
  const size = Math.max(gain.length, gain[0]?.length ?? 0);
  const gainAt = (row: number, column: number) => Math.max(0, gain[row]?.[column] ?? 0);
  const columns = leastAssignment(size, (row, column) => -gainAt(row, column));
  return gain.map((_, row) => {
    const column = itemAt(columns, row);
    return gainAt(row, column) > 0 ? column : -1;
  });
}

/** Column of each row in the assignment of least total cost, rows and columns from 0. */
function leastAssignment(
  size: number,
  cost: (row: number, column: number) => number,
): readonly number[] {
  // Columns and rows from 1; column 0 holds the row that is being placed.
  const rowOf = new Int32Array(size + 1);
  const potential = { row: new Float64Array(size + 1), column: new Float64Array(size + 1) };
  for (let row = 1; row <= size; row++) {
    rowOf[0] = row;
    const cameFrom = augmentingPath(rowOf, potential, cost);
    let column = itemAt(cameFrom, cameFrom.length - 1);
    while (column !== 0) {
      const before = itemAt(cameFrom, column);
      rowOf[column] = itemAt(rowOf, before);
      column = before;
    }
  }
  const columns = new Array<number>(size).fill(-1);
  for (let column = 1; column <= size; column++) columns[itemAt(rowOf, column) - 1] = column - 1;
  return columns;
}

interface Potential {
  readonly row: Float64Array;
  readonly column: Float64Array;
}

/** For each column the one before it on the shortest path; last of all the free column reached. */
function augmentingPath(
  rowOf: Int32Array,
  potential: Potential,
  cost: (row: number, column: number) => number,
): readonly number[] {
  const size = rowOf.length - 1;
  const least = new Float64Array(size + 1).fill(Number.POSITIVE_INFINITY);
  const cameFrom = new Array<number>(size + 1).fill(0);
  const isUsed = new Uint8Array(size + 1);
  let column = 0;
  while (itemAt(rowOf, column) !== 0) {
    isUsed[column] = 1;
    const row = itemAt(rowOf, column);
    let step = Number.POSITIVE_INFINITY;
    let next = 0;
    for (let j = 1; j <= size; j++) {
      if (isUsed[j] === 1) continue;
      const reduced =
        cost(row - 1, j - 1) - itemAt(potential.row, row) - itemAt(potential.column, j);
      if (reduced < itemAt(least, j)) {
        least[j] = reduced;
        cameFrom[j] = column;
      }
      if (itemAt(least, j) < step) {
        step = itemAt(least, j);
        next = j;
      }
    }
    for (let j = 0; j <= size; j++) {
      if (isUsed[j] === 1) {
        const at = itemAt(rowOf, j);
        potential.row[at] = itemAt(potential.row, at) + step;
        potential.column[j] = itemAt(potential.column, j) - step;
      } else least[j] = itemAt(least, j) - step;
    }
    column = next;
  }
  return [...cameFrom, column];
}
