import { describe, expect, it } from "vitest";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import { repeatNoise } from "../../../lib/interference/noise/repeat-noise.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import type { Campaign } from "../../../lib/survey/survey.js";
import { campaignOf, campaignStart_s } from "../../support/campaign.js";
import { disturbed, noiseSd } from "../../support/disturbed.js";
import { expectClose } from "../../support/expect-close.js";

const campaign = disturbed({ seed: 21, length_m: 600 });
const { channels } = campaign.passes[0]!.instrument;
/** Six visits of twenty repeats at a level of its own for each channel. */
function withChecks(seed: number, level: (c: number) => number): Campaign {
  const random = seededRandom(seed);
  const baseChecks = Array.from({ length: 120 }, (_, i) => ({
    file: "base-checks.csv",
    row: i + 2,
    spot: "B1",
    time_s: campaignStart_s + 1800 * Math.floor(i / 20) + (i % 20),
    values: Object.fromEntries(
      channels.map((channel, c) => {
        return [channel.field, level(c) + noiseSd(channel, level(c)) * random.normal()];
      }),
    ),
  }));
  return { ...campaign, baseChecks };
}
const checked = withChecks(1, (c) => (c % 2 === 0 ? 60 * 2.5 ** c : 30 * 1.6 ** c));

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

describe("the noise that maskInterference hands on", () => {
  it("is the instrument's where repeats tell it, with the ground's grain beside it", () => {
    const random = seededRandom(3);
    const level = (c: number) => 60 * 2.5 ** c;
    const passes = [
      {
        channels,
        chainage_m: Array.from({ length: 1500 }, (_, i) => 1.2 * i),
        values: channels.map((channel, c) =>
          Array.from({ length: 1500 }, () => {
            const ground = level(c) * (1 + 0.03 * random.normal());
            return ground + noiseSd(channel, level(c)) * random.normal();
          }),
        ),
      },
    ];
    const { noise } = maskInterference({
      ...campaignOf({ passes }),
      baseChecks: withChecks(1, level).baseChecks,
    }).value;
    expect(noise.every(({ from }) => from === "repeats")).toBe(true);
    // 1,500 readings know their scatter to about 4 %, so a grain thrice the noise to about as much.
    for (const one of noise.slice(4)) expectClose(one.grain_pct, 3, { relative: 0.12 });
  });

  it("is the scatter of the walk where they do not", () => {
    const { noise } = maskInterference(campaign).value;
    for (const one of noise) {
      expect(one).toMatchObject({ from: "readings", grain_pct: Number.NaN });
      expect(one.walked).toBe(one.typical);
    }
  });
});
