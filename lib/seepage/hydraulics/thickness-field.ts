import { choleskyFactor, forwardSolve } from "../../numerics/algebra/cholesky.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import type { ThicknessSeen } from "./logged.js";
import type { Range } from "./options.js";

/** A thickness along the bank: normal in its logarithm. */
export interface ThicknessField {
  /** n means and standard deviations of ln m. */
  readonly mean: Float64Array;
  readonly sd: Float64Array;
  /** n variances of what is the place's own, and what they were before anything was seen. */
  readonly ownVariance: Float64Array;
  readonly ownBefore: number;
  readonly seen: readonly ThicknessSeen[];
}

/**
 * A thickness at places along the bank from what was seen of it, by simple kriging of its
 * logarithm.
 *
 * ln z(x) = m + c + l(x): m and the variance τ² are those of the declared range, evenly on a log
 * scale; half of τ² is common to the bank (c), half is the place's own (l), alike over
 * `correlation_m` (exponential). The split is common practice, without a source.
 * Source: Chilès & Delfiner 2012, Geostatistics, 3.2 (simple kriging).
 */
export function thicknessField(
  places_m: Float64Array,
  seen: readonly ThicknessSeen[],
  { range: [low, high], correlation_m }: { readonly range: Range; readonly correlation_m: number },
): ThicknessField {
  const middle = (Math.log(low) + Math.log(high)) / 2;
  const whole = Math.max(Math.log(high / low) ** 2 / 12, 1e-6);
  const own = (d_m: number) => (whole / 2) * Math.exp(-Math.abs(d_m) / correlation_m);
  const m = seen.length;
  const matrix = new Float64Array(m * m);
  for (const [i, one] of seen.entries()) {
    for (const [j, other] of seen.entries()) {
      const error = i === j ? one.lnSd ** 2 : sharedError(one, other);
      matrix[i * m + j] = whole / 2 + own(one.chainage_m - other.chainage_m) + error;
    }
  }
  const factor = choleskyFactor(matrix, m);
  const off = Float64Array.from(seen, ({ thickness_m }) => Math.log(thickness_m) - middle);
  const solved = forwardSolve(factor, m, off);
  const along = Array.from(places_m, (x) => {
    const near = Float64Array.from(seen, ({ chainage_m }) => own(chainage_m - x));
    const both = forwardSolve(
      factor,
      m,
      near.map((value) => value + whole / 2),
    );
    const alone = forwardSolve(factor, m, near);
    return {
      mean: middle + dot(both, solved),
      variance: whole - dot(both, both),
      own: whole / 2 - dot(alone, alone),
    };
  });
  return {
    mean: Float64Array.from(along, ({ mean }) => mean),
    sd: Float64Array.from(along, ({ variance }) => Math.sqrt(Math.max(variance, 1e-6))),
    ownVariance: Float64Array.from(along, (one) => Math.max(one.own, 0)),
    ownBefore: whole / 2,
    seen,
  };
}

/** Places of one line are off together. */
function sharedError(one: ThicknessSeen, other: ThicknessSeen): number {
  return one.from === other.from ? (one.sharedLnSd ?? 0) ** 2 : 0;
}

function dot(one: Float64Array, other: Float64Array): number {
  return one.reduce((sum, value, i) => sum + value * valueAt(other, i), 0);
}

/** Who saw the thickness nearest to a place, such as "BH3, 20 m away"; null where nobody did. */
export function nearestSeen({ seen }: ThicknessField, x: number): string | null {
  if (seen.length === 0) return null;
  const off = (one: ThicknessSeen) => Math.abs(one.chainage_m - x);
  const nearest = itemAt(
    seen.toSorted((one, other) => off(one) - off(other)),
    0,
  );
  return `${nearest.from}, ${off(nearest).toFixed(0)} m away`;
}
