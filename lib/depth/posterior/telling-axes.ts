import { symmetricEigen } from "../../numerics/algebra/dense.js";
import type { Directions } from "./directions.js";

/** What stations read. */
export interface ReadRange {
  /** Channels and ties that are present. */
  readonly channels: readonly number[];
  /** The least and the largest reading of each. */
  readonly low: Float64Array;
  readonly high: Float64Array;
}

/** Members that the axes are found by. */
const JUDGED = 1500;
/** Values count as no further than this from all readings, on their scale. */
const BEYOND = 0.7;
/** Axes along which all members differ by less than this variance, in that of the noise, do not count. */
const LEAST_VARIANCE = 0.03;

/**
 * Orthonormal axes of the channels over their noise, those first that part the members most, as far
 * as members differ along them: r rows of c, principal components of the members' values.
 */
export function tellingAxes(
  { responses, ensemble, channels: width }: Directions,
  sd: Float64Array,
  { channels, low, high }: ReadRange,
): Float64Array {
  const c = channels.length;
  const every = Math.max(1, Math.floor(ensemble.count / JUDGED));
  const rows = Array.from({ length: Math.ceil(ensemble.count / every) }, (_, at) =>
    Float64Array.from(channels, (d) => {
      const value = responses.value[at * every * width + d]!;
      return Math.min(high[d]! + BEYOND, Math.max(low[d]! - BEYOND, value)) / sd[d]!;
    }),
  );
  const mean = new Float64Array(c);
  for (const row of rows) for (let i = 0; i < c; i++) mean[i]! += row[i]! / rows.length;
  const covariance = new Float64Array(c * c);
  for (const row of rows) {
    for (let i = 0; i < c; i++) {
      const off = (row[i]! - mean[i]!) / rows.length;
      for (let j = 0; j <= i; j++) covariance[i * c + j]! += off * (row[j]! - mean[j]!);
    }
  }
  const { value, vector } = symmetricEigen(covariance, c);
  const rank = Math.max(1, value.filter((one) => one > LEAST_VARIANCE).length);
  return Float64Array.from(
    { length: rank * c },
    (_, at) => vector[(at % c) * c + Math.floor(at / c)]!,
  );
}
