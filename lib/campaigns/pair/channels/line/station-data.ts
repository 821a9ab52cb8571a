import type { PresentFactors } from "./line-noise.js";

/** n × q residuals of a line, and which channels its stations have. */
export interface StationData {
  readonly n: number;
  readonly q: number;
  /** NaN where missing. */
  readonly raw: Float64Array;
  /** 0 where missing. */
  readonly datum: Float64Array;
  /** n places at which the q × q precision of those with the same channels begins. */
  readonly base: Int32Array;
  /** A station of each. */
  readonly example: readonly number[];
}

export function stationData(raw: Float64Array, q: number): StationData {
  const n = raw.length / q;
  const known = new Map<string, number>();
  const example: number[] = [];
  const base = Int32Array.from({ length: n }, (_, i) => {
    let present = "";
    for (let c = 0; c < q; c++) if (!Number.isNaN(raw[i * q + c]!)) present += `${c} `;
    const found = known.get(present) ?? example.push(i) - 1;
    known.set(present, found);
    return found * q * q;
  });
  return { n, q, raw, datum: raw.map((v) => v || 0), base, example };
}

/** Stations and how they are weighted in one round of a fit. */
export interface Weighted {
  readonly stations: StationData;
  /** n weights over the stations for one that is independent. */
  readonly weight: Float64Array;
  /** For each kind q × q, the inverse covariance of its channels; 0 in rows and columns of others. */
  readonly precision: Float64Array;
  /** The same with rows for columns: they differ by rounding. */
  readonly transposed: Float64Array;
}

export function weighted(
  stations: StationData,
  factors: PresentFactors,
  weight: Float64Array,
): Weighted {
  const { q, raw, example } = stations;
  const precision = new Float64Array(example.length * q * q);
  for (const [kind, i] of example.entries()) {
    precision.set(factors.at(raw.subarray(i * q, (i + 1) * q)).precision, kind * q * q);
  }
  const transposed = precision.map((_, at) => {
    const [row, c] = [Math.floor((at % (q * q)) / q), at % q];
    return precision[at - (at % (q * q)) + c * q + row]!;
  });
  return { stations, weight, precision, transposed };
}
