import { describe, expect, it } from "vitest";
import { lineProfiles } from "../../../lib/interference/anomaly/line-profiles.js";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import { scoreProfile } from "../../../lib/interference/metal/score-profile.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { median } from "../../../lib/numerics/statistics/robust.js";
import { campaignOf, channelOf } from "../../support/campaign.js";

/** 300 m by one channel of mS/m over ground that wanders, with one piece of metal at 200 m. */
function oneChannel(seed: number) {
  const random = seededRandom(seed);
  const chainage_m = Array.from({ length: 300 }, (_, i) => i);
  let level = 20;
  const values = chainage_m.map((x) => {
    level += 0.05 * (20 - level) + 0.4 * random.normal();
    const d = (x - 200) / 2.5;
    return level + 15 * (1 - d * d) * Math.exp((-d * d) / 2) + 0.3 * random.normal();
  });
  const channel = channelOf({ kind: "conductivity", frequency_Hz: 9800, separation_m: 3.66 });
  return campaignOf({ passes: [{ channels: [channel], values: [values], chainage_m }] });
}

describe("scoreProfile", () => {
  it("scores a line of one channel as it does others: most of it is near zero", () => {
    for (let seed = 1; seed <= 6; seed++) {
      const { score, complete } = scoreProfile(lineProfiles(oneChannel(seed))[0]!, 40);
      expect(complete).toBe(false);
      const away = score.filter((_, i) => Math.abs(i - 200) > 20 && !Number.isNaN(score[i]!));
      expect(Math.abs(median(away))).toBeLessThan(1.5);
      expect(Math.max(...score.subarray(195, 206))).toBeGreaterThan(10);
    }
  });

  it("sets aside of such a line what is beside the metal, not the line", () => {
    for (let seed = 1; seed <= 6; seed++) {
      const { passes } = maskInterference(oneChannel(seed)).value;
      const aside = [...passes[0]!.setAside[0]!.entries()].filter(([, mark]) => mark !== 0);
      expect(aside.every(([row]) => Math.abs(row - 200) <= 30)).toBe(true);
    }
  });
});
