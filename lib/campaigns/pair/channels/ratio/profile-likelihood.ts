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
  const gain = (change: Float64Array) => {
    let sum = 0;
    for (let i = 0; i < m; i++) {
      if (change[i] === 0) continue;
      let met = overlap[i * m + i]! * change[i]!;
      for (let j = 0; j < i; j++) met += 2 * overlap[i * m + j]! * change[j]!;
      sum += change[i]! * (reach[i]! - met / 2);
    }
    return sum;
  };
  const out = new Float64Array(profiles.length * SIZES.length);
  for (const [k, { share, weight }] of profiles.entries()) {
    const gains = share.every((part) => part === 0 || part === 1)
      ? wholeGains(share, gain)
      : SIZES.map((size) => gain(share.map((part) => Math.expm1(-size * part))));
    for (const [s, value] of gains.entries()) {
      out[k * SIZES.length + s] = Math.log(weight * itemAt(SIZE_WEIGHTS, s)) + value;
    }
  }
  return out;
}

/** Where every layer changes by the same, the gain is a parabola in that: two of its values tell it. */
function wholeGains(
  share: Float64Array,
  gain: (change: Float64Array) => number,
): readonly number[] {
  const [up, down] = [gain(share), gain(share.map((part) => -part))];
  return SIZES.map((size) => {
    const change = Math.expm1(-size);
    return (change * (up - down)) / 2 + (change * change * (up + down)) / 2;
  });
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
