import { forwardSolve } from "../../../../numerics/algebra/cholesky.js";
import { dot } from "../../../../numerics/algebra/dot.js";
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
  const reach = Float64Array.from(columns, (column) => dot(column, y));
  const overlap = Float64Array.from({ length: m * m }, (_, at) =>
    dot(columns[Math.floor(at / m)]!, columns[at % m]!),
  );
  const out = new Float64Array(profiles.length * SIZES.length);
  for (const [k, profile] of profiles.entries()) {
    const prior = Math.log(profile.weight);
    const gains = gainsOf(profile, { reach, overlap });
    for (let s = 0; s < SIZES.length; s++) {
      out[k * SIZES.length + s] = prior + LOG_SIZE_WEIGHTS[s]! + gains[s]!;
    }
  }
  return out;
}

const LOG_SIZE_WEIGHTS = Float64Array.from(SIZE_WEIGHTS, Math.log);

interface Met {
  /** m: how each layer's response meets the difference … */
  readonly reach: Float64Array;
  /** … and m × m how the responses of two layers meet, whitened. */
  readonly overlap: Float64Array;
}

/** For each size, the log likelihood of a profile over that of no change. */
function gainsOf(profile: ChangeProfile, { reach, overlap }: Met): Float64Array {
  const { first, last, relative, isWhole } = profile;
  const m = reach.length;
  const layers = last + 1 - first;
  const out = new Float64Array(SIZES.length);
  if (isWhole) {
    let [linear, square] = [0, 0];
    for (let i = first; i <= last; i++) {
      linear += reach[i]!;
      for (let j = first; j <= last; j++) square += overlap[i * m + j]!;
    }
    return out.map((_, s) => {
      const change = relative[s * layers]!;
      return change * (linear - (change * square) / 2);
    });
  }
  // An inner loop.
  for (let s = 0; s < out.length; s++) {
    const from = s * layers - first;
    let sum = 0;
    for (let i = first; i <= last; i++) {
      const own = relative[from + i]!;
      let met = overlap[i * m + i]! * own;
      for (let j = first; j < i; j++) met += 2 * overlap[i * m + j]! * relative[from + j]!;
      sum += own * (reach[i]! - met / 2);
    }
    out[s] = sum;
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
