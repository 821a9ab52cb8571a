import { choleskyFactor, choleskySolve } from "../../numerics/algebra/cholesky.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import { sortedQuantile } from "../../numerics/statistics/robust.js";
import type { DepthSlices, Slice } from "../depth-slices.js";
import type { LineDraws } from "../posterior/line-drawer.js";
import { boundedBy } from "./bounded-by.js";
import { noiseShare, type Resolution } from "./resolution.js";
import { sliceDraws } from "./slice-draws.js";
import { type SliceDepths, sliceWeight } from "./slice-weights.js";

type Estimated = "log10Resistivity" | "sd" | "p10" | "p90" | "repeatSd" | "averaging";

/** Means, deviations, quantiles and resolution of k slices, n values each, from a line's draws. */
export interface SliceEstimates extends Required<Pick<DepthSlices, Estimated>> {
  readonly bounded: readonly NonNullable<Slice["bounded"]>[];
  /** [slice] of n × draws. */
  readonly drawn: readonly Float64Array[];
}

/**
 * The averaging kernel is I − C P⁻¹ of the slices' covariances after (C) and before (P) the data,
 * the part of the readings' errors C − C P⁻¹ C: as of Gaussians with the draws' moments.
 * Source: Rodgers 2000, Inverse Methods for Atmospheric Sounding, sections 2.4 and 3.2.
 */
export function sliceEstimates(
  draws: LineDraws,
  slices: readonly SliceDepths[],
  resolution: Resolution,
): SliceEstimates {
  const drawn = slices.map((slice) => sliceDraws(draws, slice));
  const { prior: columns, top_m } = draws;
  const before = slices.map((slice) => sliceDraws({ columns, top_m }, slice));
  const n = draws.effective.length;
  const blank = () => slices.map(() => new Float64Array(n).fill(Number.NaN));
  const out = { ...{ log10Resistivity: blank(), sd: blank(), p10: blank(), p90: blank() } };
  const [repeatSd, averaging] = [blank(), slices.map(blank)];
  const factor = factorOf(before);
  const shares = slices.map((slice) => noiseShare(resolution, sliceWeight(top_m, slice)));
  for (let i = 0; i < n; i++) {
    const own = drawn.map((row) => row.subarray(i * draws.draws, (i + 1) * draws.draws));
    if (own.some((row) => Number.isNaN(valueAt(row, 0)))) continue;
    const covariance = covarianceOf(own);
    const k = slices.length;
    for (const [a, row] of own.entries()) {
      itemAt(out.log10Resistivity, a)[i] = mean(row);
      itemAt(out.sd, a)[i] = Math.sqrt(valueAt(covariance, a * k + a));
      const sorted = row.slice().sort();
      itemAt(out.p10, a)[i] = hazen(sorted, 0.1);
      itemAt(out.p90, a)[i] = hazen(sorted, 0.9);
      // Row a of C P⁻¹.
      const shrunk = choleskySolve(factor, k, covariance.subarray(a * k, (a + 1) * k));
      const left = shrunk.reduce((sum, v, b) => sum + v * valueAt(covariance, b * k + a), 0);
      const noise = Math.max(0, valueAt(covariance, a * k + a) - left);
      itemAt(repeatSd, a)[i] = itemAt(shares, a) * Math.sqrt(noise);
      for (const [b, value] of shrunk.entries()) {
        itemAt(itemAt(averaging, a), b)[i] = (a === b ? 1 : 0) - value;
      }
    }
  }
  const bounded = slices.map((_, a) =>
    boundedBy({ p10: itemAt(out.p10, a), p90: itemAt(out.p90, a) }, itemAt(before, a).sort()),
  );
  return { ...out, repeatSd, averaging, bounded, drawn };
}

function mean(row: Float64Array): number {
  let sum = 0;
  for (let r = 0; r < row.length; r++) sum += row[r]!;
  return sum / row.length;
}

/** k × k, row by row. */
function covarianceOf(rows: readonly Float64Array[]): Float64Array {
  const k = rows.length;
  const centred = rows.map((row) => {
    const middle = mean(row);
    return row.map((value) => value - middle);
  });
  const out = new Float64Array(k * k);
  for (const [a, one] of centred.entries()) {
    for (const [b, other] of centred.entries()) {
      let sum = 0;
      for (let r = 0; r < one.length; r++) sum += one[r]! * other[r]!;
      out[a * k + b] = sum / (one.length - 1);
    }
  }
  return out;
}

/** The factor of the prior's covariance; its diagonal is raised so that it is positive definite. */
function factorOf(before: readonly Float64Array[]): Float64Array {
  const k = before.length;
  const covariance = covarianceOf(before);
  for (let a = 0; a < k; a++) covariance[a * k + a] = 1.001 * valueAt(covariance, a * k + a);
  return choleskyFactor(covariance, k);
}

/** The quantile with values at (k − ½)/count. Source: Hyndman & Fan 1996, no. 5. */
function hazen(sorted: Float64Array, p: number): number {
  const count = sorted.length;
  return sortedQuantile(sorted, Math.min(1, Math.max(0, (p * count - 0.5) / (count - 1))));
}
