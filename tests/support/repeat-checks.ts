import { seededRandom } from "../../lib/numerics/random.js";
import type { Campaign } from "../../lib/survey/survey.js";
import { campaignStart_s } from "./campaign.js";
import { noiseSd } from "./disturbed.js";

/** Six visits of twenty repeats at a level of its own for each channel. */
export function withRepeats(campaign: Campaign, level: (c: number) => number): Campaign {
  const channels = campaign.passes[0]?.instrument.channels ?? [];
  const random = seededRandom(1);
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
