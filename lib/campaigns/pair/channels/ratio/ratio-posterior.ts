import { sliceWeights } from "../../../../depth/slices/slice-weights.js";
import { choleskyFactor } from "../../../../numerics/algebra/cholesky.js";
import { itemAt } from "../../../../numerics/arrays.js";
import { NORMAL_95 } from "../../../../numerics/statistics/normal.js";
import type { DepthRange } from "../../../ranges.js";
import type { LineInput } from "../line/line-input.js";
import { type ChangeProfile, SIZES } from "./change-profiles.js";
import { drawnEarths, type Earth, type RatioStretch } from "./drawn-earths.js";
import { profileLogs, profileResponse } from "./profile-likelihood.js";

/** The change of a slice, ln of later over earlier resistivity, as a weighted sample. */
export interface SliceChange extends DepthRange {
  readonly median: number;
  readonly lo: number;
  readonly hi: number;
  readonly mean: number;
  readonly sd: number;
}

/**
 * The change by slice of both campaigns together. Earths of the earlier campaign are drawn from
 * their posterior under the stretch's mean readings; over each, every profile and size of a change
 * is weighed by how it meets the mean difference.
 */
export function ratioPosterior(
  input: LineInput,
  stretch: RatioStretch,
  {
    profiles,
    slices,
  }: { readonly profiles: readonly ChangeProfile[]; readonly slices: readonly DepthRange[] },
): readonly SliceChange[] {
  const earths = drawnEarths(input, stretch);
  const logs = earths.map((earth) => ({
    of: weighed(stretch, { earth, profiles }),
    earth: earth.logWeight,
  }));
  const most = Math.max(...logs.map(({ of, earth }) => of[greatest(of)]! + earth));
  const weight = new Float64Array(profiles.length * SIZES.length);
  for (const { of, earth } of logs) {
    for (let at = 0; at < of.length; at++) {
      const log = of[at]! + earth - most;
      if (log > NEGLIGIBLE) weight[at]! += Math.exp(log);
    }
  }
  const layers = sliceWeights(input.response.top_m, slices);
  return slices.map((slice, s) => {
    const share = profiles.map((one) =>
      one.share.reduce((sum, part, j) => sum + part * itemAt(layers, s)[j]!, 0),
    );
    const change = weight.map(
      (_, at) => share[Math.floor(at / SIZES.length)]! * SIZES[at % SIZES.length]!,
    );
    return { ...slice, ...summary(change, weight) };
  });
}

/** Log weights this far under the greatest add nothing to any quantile. */
const NEGLIGIBLE = -35;

function greatest(logs: Float64Array): number {
  let best = 0;
  for (let at = 1; at < logs.length; at++) if (logs[at]! > logs[best]!) best = at;
  return best;
}

/** Nothing is known better than the line's level by layer, ln units. */
const LEVEL_SD = 0.01;

function summary(value: Float64Array, weight: Float64Array) {
  const order = Array.from(value.keys()).sort((a, b) => value[a]! - value[b]!);
  const total = weight.reduce((sum, w) => sum + w, 0);
  const at = (p: number) => {
    let passed = 0;
    for (const i of order) {
      passed += weight[i]!;
      if (passed >= p * total) return value[i]!;
    }
    return value[order.at(-1)!]!;
  };
  const mean = value.reduce((sum, v, i) => sum + (v * weight[i]!) / total, 0);
  const variance = value.reduce((sum, v, i) => sum + ((v - mean) ** 2 * weight[i]!) / total, 0);
  const middle = at(0.5);
  const reach = (q: number) => Math.hypot(at(q) - middle, NORMAL_95 * LEVEL_SD);
  const sd = Math.hypot(Math.sqrt(variance), LEVEL_SD);
  return { median: middle, lo: middle - reach(0.05), hi: middle + reach(0.95), mean, sd };
}

interface Trial {
  readonly earth: Earth;
  readonly profiles: readonly ChangeProfile[];
}

/** Log posterior weights of profiles × sizes; the response is put right at the best of them. */
function weighed({ data }: RatioStretch, { earth, profiles }: Trial): Float64Array {
  const { value, layers } = data;
  const factor = choleskyFactor(data.covariance, value.length);
  let byLayer = earth.about(new Float64Array(layers));
  let logs = profileLogs(data, factor, { profiles, byLayer });
  for (let round = 0; round < ROUNDS; round++) {
    const best = greatest(logs);
    const { share } = itemAt(profiles, Math.floor(best / SIZES.length));
    const size = itemAt(SIZES, best % SIZES.length);
    const change = share.map((part) => -size * part);
    const linear = earth.about(change);
    const approximate = profileResponse({ byLayer: linear, layers }, share, size);
    const scale = earth
      .exact(change)
      .map((v, a) => Math.max(0.3, Math.min(3, v / approximate[a]! || 1)));
    byLayer = linear.map((v, at) => v * scale[Math.floor(at / layers)]!);
    logs = profileLogs(data, factor, { profiles, byLayer });
  }
  return logs;
}

const ROUNDS = 3;
