import { itemAt, zipped } from "../../../numerics/arrays.js";
import { presentMean } from "../../../numerics/statistics/present.js";
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
 * fill a slice in part. Chosen by simulation, see tests/calibration.md.
 */
const AVERAGING_ERROR = 0.02;
/** Probability that an interval holds the ratio. */
const INTERVAL_LEVEL = 0.9;

/** The ratio of each slice over a stretch, with its 90 % interval. */
export function effectBySlice(
  ground: SharedGround,
  found: Significance,
  stretch: Stretch,
): readonly ChangeBySlice[] {
  const inner = innerStations(ground, stretch);
  const all = found.levelled.map((column) => presentMean(over(column, inner)));
  // A slice without any estimate in the stretch is left out.
  const known = [...all.keys()].filter((k) => !Number.isNaN(all[k]));
  const mean = Float64Array.from(known, (k) => itemAt(all, k));
  const unfolded = unfold(
    {
      mean,
      covariance: sub(errorsOf(ground, found, inner), all.length, known),
      averaging: sub(averagingOver(ground, inner), all.length, known),
      averagingError: ground.averaging === null ? 0 : AVERAGING_ERROR,
    },
    INTERVAL_LEVEL,
  );
  return zipped(known, unfolded).map(([k, { median, lo, hi }]) => {
    const { top_m, base_m } = itemAt(ground.slices, k);
    const interval = [factor(lo), factor(hi)] as const;
    return { top_m, base_m, ratio: factor(median), interval, seen: factor(itemAt(all, k)) };
  });
}

type Range = Pick<Stretch, "first" | "last">;

const over = (column: Float64Array, { first, last }: Range) => column.subarray(first, last + 1);

/** The stretch less its ends, but never less than its middle half. */
function innerStations({ spacing_m }: SharedGround, { first, last }: Stretch): Range {
  const edge = Math.min(Math.round(EDGE_M / spacing_m), Math.floor((last - first + 1) / 4));
  return { first: first + edge, last: last - edge };
}

/** Scatter of a mean of that length, and the shift's error times the rise across the stretch. */
function errorsOf(ground: SharedGround, found: Significance, inner: Range): Float64Array {
  const length = inner.last - inner.first + 1;
  const covariance = stretchScatter(found, ground.sd, length);
  const k = ground.slices.length;
  const shift = presentMean(over(ground.shiftSd_m, inner)) / ground.spacing_m || 0;
  const rise = ground.mean.map((column) => (shift * riseAcross(over(column, inner))) / length);
  return covariance.map(
    (value, at) => value + itemAt(rise, Math.floor(at / k)) * itemAt(rise, at % k),
  );
}

/** Of the means over the first and the last third of a column. */
function riseAcross(column: Float64Array): number {
  const third = Math.max(1, Math.floor(column.length / 3));
  return presentMean(column.subarray(-third)) - presentMean(column.subarray(0, third)) || 0;
}

/** The k × k averaging kernel over the stretch; that of a perfect estimate where it is unknown. */
function averagingOver({ averaging, slices }: SharedGround, inner: Range): Float64Array {
  const k = slices.length;
  const kernel = averaging?.flat().map((column) => presentMean(over(column, inner)));
  return new Float64Array(k * k).map((_, at) => {
    const given = kernel?.[at] ?? Number.NaN;
    return Number.isNaN(given) ? Number(at % (k + 1) === 0) : given;
  });
}

/** The rows and columns of a k × k matrix that are known. */
function sub(matrix: Float64Array, k: number, known: readonly number[]): Float64Array {
  return Float64Array.from(known.flatMap((a) => known.map((b) => itemAt(matrix, a * k + b))));
}

/** The factor of a log10 change, to four digits. */
const factor = (log10: number) => Number((10 ** log10).toPrecision(4));
