import { dot } from "../../../../numerics/algebra/dot.js";
import type { DifferenceModel } from "../line/difference-model.js";

/** Residuals that no direction explains lower a station's weight from this many noises on. */
const UNEXPLAINED = 3;

/**
 * Weights of stations, lower where neither the ground nor noise explains what is left.
 *
 * @param directions n × k × q, what the ground makes of the channels, noise units.
 */
export function stationWeights(
  quality: Float64Array,
  model: DifferenceModel,
  directions: Float64Array,
): Float64Array {
  const { q, residual } = model;
  const k = directions.length / residual.length;
  const left = new Float64Array(q);
  const white = Array.from({ length: k }, () => new Float64Array(q));
  return quality.map((w, i) => {
    const row = residual.subarray(i * q, (i + 1) * q);
    const { index, whiten } = model.factors.at(row);
    const dof = index.length - k;
    if (!(w > 0) || dof < 1) return w;
    whiten(row, left);
    for (let a = 0; a < k; a++) {
      const from = (i * k + a) * q;
      whiten(directions.subarray(from, from + q), white[a]);
    }
    makeOrthonormal(white);
    for (const one of white) takeOff(left, one);
    const rms = Math.sqrt(dot(left, left) / dof);
    return w * Math.min(1, UNEXPLAINED / rms) ** 2;
  });
}

/** Columns in place; one that the others make up becomes 0. */
function makeOrthonormal(columns: readonly Float64Array[]): void {
  for (const [a, column] of columns.entries()) {
    for (let b = 0; b < a; b++) takeOff(column, columns[b]!);
    const length = Math.sqrt(dot(column, column));
    const scale = length > 1e-9 ? length : Number.POSITIVE_INFINITY;
    for (let e = 0; e < column.length; e++) column[e]! /= scale;
  }
}

/** An inner loop: a column less its part along a unit vector. */
function takeOff(column: Float64Array, unit: Float64Array): void {
  const share = dot(unit, column);
  for (let e = 0; e < column.length; e++) column[e]! -= share * unit[e]!;
}
