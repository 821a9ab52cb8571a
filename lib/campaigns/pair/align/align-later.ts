import { firstOf, zipped } from "../../../numerics/arrays.js";
import { madScale } from "../../../numerics/statistics/robust.js";
import { cubicAt, lessRunningMedian, lightlySmoothed } from "./sample-columns.js";
import { type ShiftPosterior, shiftPosterior } from "./shift-posterior.js";

/** Two campaigns on their own stations; columns are slices. */
interface AlignedPair {
  /** For each slice, n values of the earlier campaign. */
  readonly earlier: readonly Float64Array[];
  /** For each slice, values of the later campaign at its own stations. */
  readonly later: readonly Float64Array[];
  /** Stations of the later campaign before the first one of the earlier; may be negative. */
  readonly ahead: number;
  readonly spacing_m: number;
}

/** Length of the running median that is taken off the differences, which removes changes, m. */
const MEDIAN_LENGTH_M = 40;
/** Correlation length of the shift, m: position errors vary slowly. */
const CORRELATION_LENGTH_M = 150;
/** Residuals beyond this many standard deviations count less and less. */
const CAP = 2;
const ROUNDS = 3;

/**
 * How far the later campaign's chainage runs ahead of the earlier one's along the line: what lies
 * at x in the earlier campaign lies at x + shift in the later.
 *
 * The two are compared at every shift up to `within_m`, less the running median of their difference
 * over 40 m: a stretch that changed, ends included, does not count, only the alignment of the
 * ground's texture. A shift's cost is Σ c² ln(1 + z²/c²) / 2 over slices, z the difference over its
 * robust scale and c = 2, divided by the redundancy of neighbours and slices. The prior is a shift
 * that varies slowly along the line (standard deviation within_m / 2, correlation falling to 1/e
 * over 150 m); the posterior is computed by forward-backward. Ground without texture determines no
 * shift: the mean stays at 0 and its standard deviation at within_m / 2.
 */
export function alignLater(pair: AlignedPair, within_m: number): ShiftPosterior {
  const { spacing_m } = pair;
  const reach = Math.max(2, Math.round(MEDIAN_LENGTH_M / 2 / spacing_m));
  const earlier = pair.earlier.map(lightlySmoothed);
  const later = pair.later.map(lightlySmoothed);
  const half = Math.ceil(within_m / Math.min(0.5, spacing_m / 4));
  const shifts_m = new Float64Array(2 * half + 1).map((_, s) => (within_m * (s - half)) / half);
  const correlation = Math.exp(-spacing_m / CORRELATION_LENGTH_M);
  const prior = { shifts_m, sd_m: within_m / 2, correlation };
  const differences = allDifferences({ ...pair, earlier, later }, shifts_m, reach);
  const n = firstOf(pair.earlier).length;
  let found: ShiftPosterior = { mean_m: new Float64Array(n), sd_m: new Float64Array(n) };
  for (let round = 0; round < ROUNDS; round++) {
    const nearest = found.mean_m.map((mean) => Math.round(half + (mean * half) / within_m));
    found = shiftPosterior(costs(differences, nearest), prior);
  }
  return found;
}

/** For each slice n × shifts differences, less their running median along the line. */
function allDifferences(pair: AlignedPair, shifts_m: Float64Array, reach: number): Float64Array[] {
  const m = shifts_m.length;
  return zipped(pair.earlier, pair.later).map(([column, later]) => {
    const out = new Float64Array(column.length * m);
    const all = new Float64Array(column.length);
    for (const [s, shift_m] of shifts_m.entries()) {
      const ahead = pair.ahead + shift_m / pair.spacing_m;
      for (let i = 0; i < all.length; i++) all[i] = cubicAt(later, i + ahead) - column[i]!;
      const left = lessRunningMedian(all, reach);
      for (let i = 0; i < left.length; i++) out[i * m + s] = left[i]!;
    }
    return out;
  });
}

function costs(differences: readonly Float64Array[], nearest: Float64Array): Float64Array {
  const n = nearest.length;
  const m = (differences[0]?.length ?? 0) / n;
  const here = differences.map((all) => nearest.map((s, i) => all[i * m + s]!));
  const scales = here.map((column) => madScale(column) || 1e-6);
  const scaled = zipped(here, scales).map(([column, scale]) => standardised(column, scale));
  const share = 1 / (sliceRedundancy(scaled) * Math.max(...scaled.map(stationRedundancy)));
  const out = new Float64Array(n * m);
  for (const [all, scale] of zipped(differences, scales)) {
    for (let i = 0; i < n; i++) {
      // Where some shift leads out of the readings, the station has no likelihood.
      if (hasMissing(all, i * m, m)) continue;
      for (let s = 0; s < m; s++) {
        const z = all[i * m + s]! / scale;
        out[i * m + s]! += (share * CAP * CAP * Math.log1p((z * z) / (CAP * CAP))) / 2;
      }
    }
  }
  return out;
}

function hasMissing(values: Float64Array, from: number, count: number): boolean {
  for (let at = from; at < from + count; at++) if (Number.isNaN(values[at]!)) return true;
  return false;
}

/** Outliers are limited, so that they do not dominate the correlations. */
const standardised = (column: Float64Array, scale: number) =>
  column.map((value) => Math.max(-3, Math.min(3, value / scale)));

/** Neighbours per independent one: 1 + 2 × the sum of autocorrelations down to the first of 0. */
function stationRedundancy(column: Float64Array): number {
  let sum = 1;
  for (let lag = 1; lag < column.length / 4; lag++) {
    const r = correlation(column.subarray(0, -lag), column.subarray(lag));
    if (!(r > 0)) break;
    sum += 2 * r;
  }
  return sum;
}

/** Slices per independent one: 1 + (k − 1) × their mean correlation. */
function sliceRedundancy(columns: readonly Float64Array[]): number {
  const pairs = columns.flatMap((one, k) =>
    columns.slice(k + 1).map((other) => Math.max(0, correlation(one, other))),
  );
  if (pairs.length === 0) return 1;
  return 1 + ((columns.length - 1) * pairs.reduce((sum, r) => sum + r, 0)) / pairs.length;
}

function correlation(one: Float64Array, other: Float64Array): number {
  let xy = 0;
  let xx = 0;
  let yy = 0;
  for (let i = 0; i < one.length; i++) {
    const x = one[i]!;
    const y = other[i]!;
    if (Number.isNaN(x + y)) continue;
    xy += x * y;
    xx += x * x;
    yy += y * y;
  }
  return xx > 0 && yy > 0 ? xy / Math.sqrt(xx * yy) : 0;
}
