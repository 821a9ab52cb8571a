import { describe, expect, it } from "vitest";
import type { StretchData } from "../../../../../lib/campaigns/pair/channels/explain/stretch-data.js";
import {
  changeProfiles,
  SIZE_WEIGHTS,
  SIZES,
} from "../../../../../lib/campaigns/pair/channels/ratio/change-profiles.js";
import {
  logSum,
  profileLogs,
  profileResponse,
} from "../../../../../lib/campaigns/pair/channels/ratio/profile-likelihood.js";
import { choleskyFactor } from "../../../../../lib/numerics/algebra/cholesky.js";
import { expectClose } from "../../../../support/expect-close.js";

const top_m = Float64Array.of(0, 0.5, 1, 2);
const byLayer = Float64Array.of(4, 3, 2, 1, 1, 2, 3, 4);
const data: StretchData = {
  index: Int32Array.of(0, 1),
  value: Float64Array.of(-1.2, -0.4),
  covariance: Float64Array.of(0.04, 0.01, 0.01, 0.09),
  byLayer,
  layers: 4,
  first: new Float64Array(2),
  second: new Float64Array(2),
  ppm: Float64Array.of(1, 1),
  pass: new Int32Array(2),
};

describe("the profiles of a change", () => {
  it("fill the ground between any two borders, whole or fading, with weights that add up to 1", () => {
    const profiles = changeProfiles(top_m);
    // 4 × 5 / 2 whole ones, and fading ones of two layers and more that have a base.
    expect(profiles.length).toBe(10 + 3);
    expectClose(
      profiles.reduce((sum, { weight }) => sum + weight, 0),
      1,
      { absolute: 1e-12 },
    );
    for (const { share } of profiles) {
      expect(Math.max(...share)).toBeLessThanOrEqual(1);
      expect(Math.min(...share)).toBeGreaterThanOrEqual(0);
    }
  });

  it("have the likelihood of a normal mean, by the density written out", () => {
    const profiles = changeProfiles(top_m);
    const logs = profileLogs(data, choleskyFactor(data.covariance, 2), { profiles, byLayer });
    const [k, s] = [4, 30];
    const response = profileResponse(data, profiles[k]!.share, SIZES[s]!);
    // The inverse of a 2 × 2 matrix by hand.
    const det = 0.04 * 0.09 - 0.01 ** 2;
    const length = (x: number, y: number) => (0.09 * x * x - 0.02 * x * y + 0.04 * y * y) / det;
    const [u, v] = [data.value[0]!, data.value[1]!];
    const expected =
      Math.log(profiles[k]!.weight * SIZE_WEIGHTS[s]!) +
      (length(u, v) - length(u - response[0]!, v - response[1]!)) / 2;
    expectClose(logs[k * SIZES.length + s]!, expected, { relative: 1e-9 });
  });

  it("respond as conductivity does: a factor of 2 in resistivity halves it", () => {
    const whole = Float64Array.of(1, 1, 1, 1);
    const response = profileResponse(data, whole, Math.log(2));
    expectClose(response[0]!, -5, { relative: 1e-12 });
    expectClose(response[1]!, -5, { relative: 1e-12 });
  });

  it("are summed without overflow", () => {
    expectClose(logSum([1000, 1000]), 1000 + Math.log(2), { absolute: 1e-9 });
    expect(logSum([-1e4])).toBe(-1e4);
  });
});
