import { describe, expect, it } from "vitest";
import { repeatNoise } from "../../../lib/interference/noise/repeat-noise.js";
import { campaignStart_s } from "../../support/campaign.js";
import { disturbed, noiseSd } from "../../support/disturbed.js";
import { expectClose } from "../../support/expect-close.js";
import { withRepeats } from "../../support/repeat-checks.js";

const campaign = disturbed({ seed: 21, length_m: 600 });
const { channels } = campaign.passes[0]!.instrument;
const checked = withRepeats(campaign, (c) => (c % 2 === 0 ? 60 * 2.5 ** c : 30 * 1.6 ** c));

describe("repeatNoise", () => {
  it("finds floor and share of an instrument that has 10 and 25 ppm and 1 %", () => {
    // 114 degrees of freedom know a standard deviation to 6.6 %; three of that.
    const found = repeatNoise(checked, checked.passes[0]!);
    for (const [c, { kind }] of channels.entries()) {
      const level = c % 2 === 0 ? 60 * 2.5 ** c : 30 * 1.6 ** c;
      const noise = Math.hypot(found[c]!.floor, found[c]!.share * level);
      expectClose(noise, noiseSd(channels[c]!, level), { relative: 0.2 });
      expectClose(found[c]!.floor, kind === "quadrature" ? 10 : 25, { relative: 0.25 });
      expectClose(100 * found[c]!.share, 1, { relative: 0.3 });
    }
  });

  it("is not misled by drift between visits", () => {
    const drifting = {
      ...checked,
      baseChecks: checked.baseChecks.map((check) => ({
        ...check,
        values: Object.fromEntries(
          Object.entries(check.values).map(([field, value]) => {
            return [field, value + 0.005 * (check.time_s - campaignStart_s)];
          }),
        ),
      })),
    };
    const [still, moved] = [checked, drifting].map((one) => repeatNoise(one, one.passes[0]!)[0]!);
    // 45 ppm over the day is five times the noise; within a visit it is 0.1 ppm.
    expectClose(moved!.floor, still!.floor, { relative: 0.02 });
  });

  it("says nothing without repeats, or with a handful", () => {
    const few = { ...checked, baseChecks: checked.baseChecks.slice(0, 8) };
    for (const one of [campaign, few]) {
      expect(repeatNoise(one, one.passes[0]!).every((noise) => noise === null)).toBe(true);
    }
  });
});
