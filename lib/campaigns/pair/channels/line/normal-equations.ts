import { choleskyFactor, choleskySolve } from "../../../../numerics/algebra/cholesky.js";
import type { PresentFactors } from "./line-noise.js";
import type { Unknown } from "./line-unknowns.js";

/** Residuals of n stations × q channels that unknowns explain. */
export interface Fit {
  readonly raw: Float64Array;
  readonly n: number;
  readonly q: number;
  readonly weight: Float64Array;
  readonly factors: PresentFactors;
  readonly unknowns: readonly Unknown[];
  /** Stations for one that is independent. */
  readonly redundancy: number;
}

/** Weighted least squares with the prior of the unknowns. */
export function solved(fit: Fit): Float64Array {
  const { raw, n, q, weight, factors, unknowns, redundancy } = fit;
  const p = unknowns.length;
  const [normal, right] = [new Float64Array(p * p), new Float64Array(p)];
  const design = new Float64Array((p + 1) * q);
  for (let i = 0; i < n; i++) {
    if (!(weight[i]! > 0)) continue;
    const { index, factor } = factors.at(raw.subarray(i * q, (i + 1) * q));
    const r = index.length;
    if (r === 0) continue;
    for (let a = 0; a <= p; a++) {
      const column = a < p ? unknowns[a]!.column : raw;
      whitenInto(design, a * r, { column, at: i * q, index, factor });
    }
    addNormal({ normal, right, design, r, w: weight[i]! / redundancy });
  }
  for (const [a, { sd }] of unknowns.entries()) normal[a * p + a]! += 1 / sd ** 2;
  return p === 0 ? right : choleskySolve(choleskyFactor(normal, p), p, right);
}

interface Whitened {
  readonly column: Float64Array;
  readonly at: number;
  readonly index: Int32Array;
  readonly factor: Float64Array;
}

/** L⁻¹ times the present entries of a station's column, in place: this is an inner loop. */
function whitenInto(out: Float64Array, to: number, { column, at, index, factor }: Whitened): void {
  const r = index.length;
  for (let a = 0; a < r; a++) {
    let sum = column[at + index[a]!]!;
    for (let b = 0; b < a; b++) sum -= factor[a * r + b]! * out[to + b]!;
    out[to + a] = sum / factor[a * r + a]!;
  }
}

interface Normal {
  readonly normal: Float64Array;
  readonly right: Float64Array;
  /** (p + 1) × r: whitened columns, the datum last. */
  readonly design: Float64Array;
  readonly r: number;
  readonly w: number;
}

function addNormal({ normal, right, design, r, w }: Normal): void {
  const p = right.length;
  const product = (a: number, b: number) => {
    let sum = 0;
    for (let e = 0; e < r; e++) sum += design[a * r + e]! * design[b * r + e]!;
    return w * sum;
  };
  for (let a = 0; a < p; a++) {
    right[a]! += product(a, p);
    for (let b = 0; b <= a; b++) normal[a * p + b]! += product(a, b);
  }
}
