import { dot } from "../../../../numerics/algebra/dot.js";
import type { DifferenceModel } from "../line/difference-model.js";

/** Residuals that no direction explains lower a station's weight from this many noises on. */
const UNEXPLAINED = 3;

/** Weights of stations, lower where neither the ground nor noise explains what is left. */
export function stationWeights(
  quality: Float64Array,
  model: DifferenceModel,
  directions: (station: number) => readonly Float64Array[],
): Float64Array {
  const { q, residual } = model;
  return quality.map((w, i) => {
    const row = residual.subarray(i * q, (i + 1) * q);
    const { index, whiten } = model.factors.at(row);
    const d = directions(i);
    const dof = index.length - d.length;
    if (!(w > 0) || dof < 1) return w;
    let left = whiten(row);
    for (const one of orthonormal(d.map(whiten))) {
      const share = dot(one, left);
      left = left.map((v, a) => v - share * one[a]!);
    }
    const rms = Math.sqrt(dot(left, left) / dof);
    return w * Math.min(1, UNEXPLAINED / rms) ** 2;
  });
}

function orthonormal(columns: readonly Float64Array[]): readonly Float64Array[] {
  const made: Float64Array[] = [];
  for (const column of columns) {
    let left = column;
    for (const one of made) {
      const share = dot(one, left);
      left = left.map((v, a) => v - share * one[a]!);
    }
    const length = Math.sqrt(dot(left, left));
    if (length > 1e-9) made.push(left.map((v) => v / length));
  }
  return made;
}
