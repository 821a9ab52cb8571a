import { describe, expect, it } from "vitest";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { campaignOf } from "../../support/campaign.js";
import { disturbed, noiseSd } from "../../support/disturbed.js";
import { expectClose } from "../../support/expect-close.js";
import { withRepeats } from "../../support/repeat-checks.js";

const campaign = disturbed({ seed: 21, length_m: 600 });
const channels = campaign.passes[0]!.instrument.channels;

describe("the noise that maskInterference hands on", () => {
  const metal = [{ at_m: 80, size: 12 }];
  const disturbedCampaign = disturbed({
    seed: 6,
    metal,
    orientations: ["HCP", "VCP"],
    length_m: 200,
  });

  it("finds the noise", () => {
    const { noise } = maskInterference(disturbedCampaign).value;
    expect(noise).toHaveLength(20);
    const inphase = noise.filter(({ channel }) => channel.startsWith("i_1500"));
    // The floor of 25 ppm from some 160 readings: the scale is known to about 10 %.
    for (const { typical } of inphase) expect(Math.abs(typical - 25)).toBeLessThan(6);
  });

  it("is the instrument's where repeats tell it, with the ground's own variation beside it", () => {
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
      baseChecks: withRepeats(campaign, level).baseChecks,
    }).value;
    expect(noise.every(({ from }) => from === "repeats")).toBe(true);
    // 1,500 readings know their scatter to about 4 %, so a variation thrice the noise to about as
    // much.
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
