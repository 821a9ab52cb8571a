import { forwardSolve } from "../../../../numerics/algebra/cholesky.js";
import { dot } from "../../../../numerics/algebra/dot.js";
import { itemAt } from "../../../../numerics/arrays.js";
import type { StretchData } from "../explain/stretch-data.js";
import { type ChangeProfile, SIZE_WEIGHTS, SIZES } from "./change-profiles.js";

interface Tried {
  readonly profiles: readonly ChangeProfile[];
  /** p × m, noise units. */
  readonly byLayer: Float64Array;
}

/**
 * For each profile and size, ln of its prior weight times the likelihood over that of no change.
 * The response Σ_j ∂/∂ln σ_j (e^(−size × share_j) − 1) is exact where linear in conductivity.
 */
export function profileLogs(
  { value, layers: m }: StretchData,
  factor: Float64Array,
  { profiles, byLayer }: Tried,
): Float64Array {
  const p = value.length;
  const y = forwardSolve(factor, p, value);
  const columns = Array.from({ length: m }, (_, j) =>
    forwardSolve(
      factor,
      p,
      Float64Array.from({ length: p }, (_, a) => byLayer[a * m + j]!),
    ),
  );
  const reach = columns.map((column) => dot(column, y));
  const overlap = Float64Array.from({ length: m * m }, (_, at) =>
    dot(columns[Math.floor(at / m)]!, columns[at % m]!),
  );
  const out = new Float64Array(profiles.length * SIZES.length);
  const change = new Float64Array(m);
  for (const [k, { share, weight }] of profiles.entries()) {
    for (const [s, size] of SIZES.entries()) {
      for (let j = 0; j < m; j++) change[j] = share[j] === 0 ? 0 : Math.expm1(-size * share[j]!);
      let sum = Math.log(weight * itemAt(SIZE_WEIGHTS, s));
      for (let i = 0; i < m; i++) {
        if (change[i] === 0) continue;
        let met = overlap[i * m + i]! * change[i]!;
        for (let j = 0; j < i; j++) met += 2 * overlap[i * m + j]! * change[j]!;
        sum += change[i]! * (reach[i]! - met / 2);
      }
      out[k * SIZES.length + s] = sum;
    }
  }
  return out;
}

/** The response of a profile and size, p entries in noise units. */
export function profileResponse(
  { byLayer, layers: m }: Pick<StretchData, "byLayer" | "layers">,
  share: Float64Array,
  size: number,
): Float64Array {
  return Float64Array.from({ length: byLayer.length / m }, (_, a) =>
    share.reduce((sum, part, j) => sum + byLayer[a * m + j]! * Math.expm1(-size * part), 0),
  );
}

/** ln Σ e^v, without overflow. */
export function logSum(logs: ArrayLike<number>): number {
  const all = Array.from(logs);
  const most = all.reduce((high, v) => Math.max(high, v), Number.NEGATIVE_INFINITY);
  return most + Math.log(all.reduce((sum, v) => sum + Math.exp(v - most), 0));
}
