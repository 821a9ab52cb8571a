import type { ChangeBySlice } from "../changes.js";
import type { Significance } from "../find-significant.js";
import type { Stretch } from "../gather-stretches.js";
import type { SharedGround } from "../shared-ground.js";
import { stretchScatter } from "./stretch-scatter.js";
import { unfold } from "./unfold.js";

/** Stations this near to an end are left out of the effect: the end may lie inside of them, m. */
const EDGE_M = 5;
/**
 * Error of the averaging kernel as a share of the change: the kernel is linear, and a change may
 * fill a slice in part. Chosen by simulation, see docs/calibration.md.
 */
const AVERAGING_ERROR = 0.02;
/** Probability that an interval holds the ratio. */
export const INTERVAL_LEVEL = 0.9;

/** The ratio of each slice over a stretch, with its 90 % interval. */
export function effectBySlice(
  ground: SharedGround,
  found: Significance,
  stretch: Stretch,
): readonly ChangeBySlice[] {
  const inner = innerStations(ground, stretch);
  const mean = Float64Array.from(found.levelled, (column) => meanOver(column, inner));
  // A slice without any estimate in the stretch is left out.
  const known = [...mean.keys()].filter((k) => !Number.isNaN(mean[k]!));
  const unfolded = unfold(
    {
      mean: Float64Array.from(known, (k) => mean[k]!),
      covariance: sub(errorsOf(ground, found, inner), mean.length, known),
      averaging: sub(averagingOver(ground, inner), mean.length, known),
      averagingError: ground.averaging === null ? 0 : AVERAGING_ERROR,
    },
    INTERVAL_LEVEL,
  );
  return known.map((k, at) => {
    const { median, lo, hi } = unfolded[at]!;
    return {
      top_m: ground.slices[k]!.top_m,
      base_m: ground.slices[k]!.base_m,
      ratio: digits(10 ** median),
      interval: [digits(10 ** lo), digits(10 ** hi)],
      seen: digits(10 ** mean[k]!),
    };
  });
}

interface Range {
  readonly first: number;
  readonly last: number;
}

/** The stretch less its ends, but never less than its middle half. */
function innerStations({ spacing_m }: SharedGround, { first, last }: Stretch): Range {
  const edge = Math.min(Math.round(EDGE_M / spacing_m), Math.floor((last - first + 1) / 4));
  return { first: first + edge, last: last - edge };
}

function meanOver(column: Float64Array, { first, last }: Range): number {
  let sum = 0;
  let count = 0;
  for (let i = first; i <= last; i++) {
    if (Number.isNaN(column[i]!)) continue;
    sum += column[i]!;
    count++;
  }
  return count > 0 ? sum / count : Number.NaN;
}

/** Scatter of a mean of that length, and the shift's error times the rise across the stretch. */
function errorsOf(ground: SharedGround, found: Significance, inner: Range): Float64Array {
  const length = inner.last - inner.first + 1;
  const { covariance } = stretchScatter(found, ground.sd, length);
  const k = ground.slices.length;
  const shift = meanOver(ground.shiftSd_m, inner) / ground.spacing_m || 0;
  const rise = ground.mean.map((column) => (shift * riseAcross(column, inner)) / length);
  return covariance.map((value, at) => value + rise[Math.floor(at / k)]! * rise[at % k]!);
}

function riseAcross(column: Float64Array, { first, last }: Range): number {
  const third = Math.max(1, Math.floor((last - first + 1) / 3));
  const before = meanOver(column, { first, last: first + third - 1 });
  const after = meanOver(column, { first: last - third + 1, last });
  return after - before || 0;
}

function averagingOver({ averaging, slices }: SharedGround, inner: Range): Float64Array {
  const k = slices.length;
  return new Float64Array(k * k).map((_, at) => {
    const [a, b] = [Math.floor(at / k), at % k];
    const given = averaging === null ? Number.NaN : meanOver(averaging[a]![b]!, inner);
    return Number.isNaN(given) ? Number(a === b) : given;
  });
}

/** The rows and columns of a k × k matrix that are known. */
function sub(matrix: Float64Array, k: number, known: readonly number[]): Float64Array {
  return Float64Array.from(known.flatMap((a) => known.map((b) => matrix[a * k + b]!)));
}

const digits = (value: number) => Number(value.toPrecision(4));
