import { describe, expect, it } from "vitest";
import {
  channelCovariance,
  PresentFactors,
} from "../../../../../lib/campaigns/pair/channels/line/line-noise.js";
import { seededRandom } from "../../../../../lib/numerics/random.js";
import { expectClose } from "../../../../support/expect-close.js";

const N = 4000;

/** Two channels with standard deviations 1 and 2 and a correlation of 0.6. */
function residuals(outliers: number) {
  const random = seededRandom(7);
  const value = new Float64Array(2 * N);
  for (let i = 0; i < N; i++) {
    const [a, b] = [random.normal(), random.normal()];
    const far = i < outliers ? 50 : 0;
    value[2 * i] = a + far;
    value[2 * i + 1] = 2 * (0.6 * a + 0.8 * b) + far;
  }
  return { value, q: 2, weight: new Float64Array(N).fill(1) };
}

describe("the noise between channels", () => {
  it("is the covariance, hardly moved by outliers", () => {
    for (const outliers of [0, 80]) {
      const [a, b, , d] = channelCovariance(residuals(outliers));
      // 4000 samples give variances to 2 %; capping at 3 takes 1 %; 2 % of outliers at the cap add 18 %.
      const more = (outliers / N) * 9;
      expectClose(a!, 1 + more, { relative: 0.07 });
      expectClose(d!, 4 * (1 + more), { relative: 0.07 });
      expectClose(b! / Math.sqrt(a! * d!), 0.6, { absolute: outliers === 0 ? 0.04 : 0.12 });
    }
  });

  it("leaves out stations without weight and channels without a reading", () => {
    const { value, q, weight } = residuals(0);
    value[0] = Number.NaN;
    value[3] = 1e6;
    weight[1] = 0;
    expect(channelCovariance({ value, q, weight }).every(Number.isFinite)).toBe(true);
  });

  it("whitens what is there: unit variance, and one channel by its own deviation", () => {
    const factors = new PresentFactors(Float64Array.of(1, 1.2, 1.2, 4), 2);
    const both = factors.at([0, 0]).whiten([1, 1.2]);
    expectClose(both[0]!, 1, { absolute: 1e-12 });
    expectClose(both[1]!, 0, { absolute: 1e-12 });
    const second = factors.at([Number.NaN, 0]);
    expect([...second.index]).toEqual([1]);
    expectClose(second.whiten([9, 6])[0]!, 3, { absolute: 1e-12 });
  });
});
