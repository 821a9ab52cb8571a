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
  const work = { weighted: new Float64Array(q), normal, right };
  for (let i = 0; i < n; i++) {
    if (!(weight[i]! > 0)) continue;
    const datum = raw.subarray(i * q, (i + 1) * q);
    const { precision } = factors.at(datum);
    addStation(work, { unknowns, datum, precision, at: i * q, w: weight[i]! / redundancy });
  }
  for (const [a, { sd }] of unknowns.entries()) normal[a * p + a]! += 1 / sd ** 2;
  return p === 0 ? right : choleskySolve(choleskyFactor(normal, p), p, right);
}

interface Work {
  /** q: the weight matrix times a column. */
  readonly weighted: Float64Array;
  readonly normal: Float64Array;
  readonly right: Float64Array;
}

interface Station {
  readonly unknowns: readonly Unknown[];
  /** q residuals, NaN where missing. */
  readonly datum: Float64Array;
  /** q × q, 0 in rows and columns of missing channels. */
  readonly precision: Float64Array;
  /** Where the station's row of a column begins. */
  readonly at: number;
  readonly w: number;
}

/** An inner loop. Most unknowns enter one channel, so that products run over the channels of each. */
function addStation({ weighted, normal, right }: Work, station: Station): void {
  const { unknowns, datum, precision, at, w } = station;
  const [p, q] = [unknowns.length, datum.length];
  for (let a = 0; a < p; a++) {
    const { column, channels } = unknowns[a]!;
    weighted.fill(0);
    let enters = false;
    for (const c of channels) {
      const size = w * column[at + c]!;
      if (size === 0 || Number.isNaN(datum[c]!)) continue;
      enters = true;
      for (let e = 0; e < q; e++) weighted[e]! += size * precision[c * q + e]!;
    }
    if (!enters) continue;
    for (let e = 0; e < q; e++) if (weighted[e] !== 0) right[a]! += weighted[e]! * datum[e]!;
    for (let b = 0; b <= a; b++) {
      const other = unknowns[b]!;
      let sum = 0;
      for (const c of other.channels) {
        if (weighted[c] !== 0) sum += weighted[c]! * other.column[at + c]!;
      }
      normal[a * p + b]! += sum;
    }
  }
}
