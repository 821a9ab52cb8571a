import { type EarthEnsemble, MOST_LAYERS } from "./earth-ensemble.js";

/** How far below its top the last layer of a grid is averaged, as a share of that depth. */
const BEYOND = 0.4;

/** Writes the mean ln conductivity of a member's layers over each layer of a grid (m tops). */
export function columnOf(
  ensemble: EarthEnsemble,
  k: number,
  {
    lnConductivity,
    top_m,
    out,
    at,
  }: {
    readonly lnConductivity: Float64Array;
    readonly top_m: Float64Array;
    readonly out: Float32Array;
    readonly at: number;
  },
): void {
  const m = top_m.length;
  const layers = ensemble.layers[k]!;
  let j = 0;
  let base = layers > 1 ? ensemble.thickness_m[k * MOST_LAYERS]! : Number.POSITIVE_INFINITY;
  for (let i = 0; i < m; i++) {
    const top = top_m[i]!;
    const end = top_m[i + 1] ?? (1 + BEYOND) * top;
    let z = top;
    let sum = 0;
    while (z < end) {
      while (base <= z && j + 1 < layers) {
        j += 1;
        base +=
          j + 1 < layers ? ensemble.thickness_m[k * MOST_LAYERS + j]! : Number.POSITIVE_INFINITY;
      }
      const until = Math.min(end, base);
      sum += (until - z) * lnConductivity[j]!;
      z = until;
    }
    out[at + i] = sum / (end - top);
  }
}
