import { choleskyFactor } from "../../../../numerics/algebra/cholesky.js";
import { type ChangeProfile, SIZE_WEIGHTS } from "../ratio/change-profiles.js";
import { logSum, profileLogs } from "../ratio/profile-likelihood.js";
import { heightEvidence } from "./height-evidence.js";
import type { OffsetEvidence } from "./offset-evidence.js";
import type { StretchData } from "./stretch-data.js";
import { zeroEvidence } from "./zero-evidence.js";

/** What a stretch's difference may come from, each with its log evidence over no difference. */
export interface Explanations {
  readonly ground: number;
  /** Coils carried higher or lower, walk by walk, m. */
  readonly height: OffsetEvidence;
  /** Zeros of the channels, ppm, by channel of the pair. */
  readonly zero: OffsetEvidence;
}

export function explanations(
  data: StretchData,
  profiles: readonly ChangeProfile[],
  sizes: { readonly passes: number; readonly channels: number },
): Explanations {
  return {
    ground: groundEvidence(data, profiles),
    height: heightEvidence(data, sizes),
    zero: zeroEvidence(data, sizes.channels),
  };
}

/** Mean likelihood over profiles and sizes. */
function groundEvidence(data: StretchData, profiles: readonly ChangeProfile[]): number {
  const factor = choleskyFactor(data.covariance, data.value.length);
  const logs = profileLogs(data, factor, { profiles, byLayer: data.byLayer });
  return logSum(logs) - Math.log(SIZE_WEIGHTS.reduce((sum, w) => sum + w, 0));
}
