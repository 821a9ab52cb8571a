import { madScale } from "../../numerics/statistics/robust.js";

/**
 * The noise variance of a column from the differences of successive present samples: the square of
 * their robust scale / √2, which a few steps in the mean leave alone.
 *
 * Where more than half of the differences are equal, their mean square / 2 takes its place; where
 * all are equal to zero, or none exists, 1 (such a column costs nothing however it is cut).
 */
export function differenceNoise(column: ArrayLike<number>): number {
  const differences = presentDifferences(column);
  const scale = madScale(differences) / Math.SQRT2;
  if (scale > 0) return scale * scale;
  const square = differences.reduce((sum, value) => sum + value * value, 0);
  return square > 0 ? square / (2 * differences.length) : 1;
}

function presentDifferences(column: ArrayLike<number>): Float64Array {
  const differences = new Float64Array(column.length);
  let previous = Number.NaN;
  let found = 0;
  for (let i = 0; i < column.length; i++) {
    const value = column[i]!;
    if (Number.isNaN(value)) continue;
    if (!Number.isNaN(previous)) differences[found++] = value - previous;
    previous = value;
  }
  return differences.subarray(0, found);
}
