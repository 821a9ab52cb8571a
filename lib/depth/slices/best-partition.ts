import { choleskyFactor } from "../../numerics/algebra/cholesky.js";
import type { Resolution } from "./resolution.js";

/** Nats that a metre of depth counts besides. */
const PER_METRE = 0.05;

interface PartitionSetup extends Pick<Resolution, "before" | "after"> {
  /** No slice reaches below it, m. */
  readonly deepest_m?: number;
}

/**
 * The grid's depths (indices, rising from 0) that part the column into a number of slices whose
 * means the data say most about together: the greatest mean of ½ ln det(before) − ½ ln det(after),
 * the mutual information of data and slices. Source: Cover & Thomas 2006, section 8.4.
 */
export function bestPartition(
  top_m: Float64Array,
  slices: number,
  { deepest_m = Number.POSITIVE_INFINITY, ...covariances }: PartitionSetup,
): readonly number[] {
  const m = Math.max(slices + 1, top_m.filter((top) => top <= deepest_m).length);
  let best: readonly number[] = [];
  let most = Number.NEGATIVE_INFINITY;
  for (const cuts of partitions(m, slices)) {
    const told = information(top_m, cuts, covariances) + PER_METRE * top_m[cuts.at(-1)!]!;
    if (told > most) [most, best] = [told, cuts];
  }
  return best;
}

/** All rising rows of `slices` + 1 indices below m that begin with 0. */
function* partitions(
  m: number,
  slices: number,
  from: readonly number[] = [0],
): Generator<readonly number[]> {
  if (from.length === slices + 1) {
    yield from;
    return;
  }
  const left = slices - from.length;
  for (let next = from.at(-1)! + 1; next < m - left; next++) {
    yield* partitions(m, slices, [...from, next]);
  }
}

function information(
  top_m: Float64Array,
  cuts: readonly number[],
  { before, after }: Pick<Resolution, "before" | "after">,
): number {
  const known = halfLogDeterminant(ofSlices(before, top_m, cuts), cuts.length - 1);
  const sum = after.reduce(
    (total, one) => total + halfLogDeterminant(ofSlices(one, top_m, cuts), cuts.length - 1),
    0,
  );
  return known - sum / after.length;
}

/** Covariance of the slices' means. */
function ofSlices(covariance: Float64Array, top_m: Float64Array, cuts: readonly number[]) {
  const m = top_m.length;
  const k = cuts.length - 1;
  const out = new Float64Array(k * k);
  for (let p = 0; p < k; p++) {
    for (let q = 0; q <= p; q++) {
      let sum = 0;
      for (let i = cuts[p]!; i < cuts[p + 1]!; i++) {
        const w = top_m[i + 1]! - top_m[i]!;
        for (let j = cuts[q]!; j < cuts[q + 1]!; j++) {
          sum += w * (top_m[j + 1]! - top_m[j]!) * covariance[i * m + j]!;
        }
      }
      const thick = (a: number) => top_m[cuts[a + 1]!]! - top_m[cuts[a]!]!;
      out[p * k + q] = sum / (thick(p) * thick(q));
    }
  }
  return out;
}

function halfLogDeterminant(matrix: Float64Array, k: number): number {
  const factor = choleskyFactor(matrix, k);
  let sum = 0;
  for (let i = 0; i < k; i++) sum += Math.log(factor[i * k + i]!);
  return sum;
}
