import { describe, expect, it } from "vitest";
import { trendOverCampaigns } from "../../../lib/campaigns/trend/trend-over-campaigns.js";
import { makeCampaigns } from "../../support/campaign-pairs.js";
import { expectShare } from "../../support/expect-share.js";

/** Falls by 5.6 % from a campaign to the next, two a year, over 40 m in the two shallow slices. */
const drying = (x: number, k: number, campaign: number) =>
  k < 2 && x >= 400 && x <= 440 ? -0.025 * campaign : 0;
const yearly = 10 ** -0.05;

describe("trendOverCampaigns over seeded lines", () => {
  it("finds nothing in 95 of 100 lines without a trend, and the trend in nine of ten", () => {
    let [wrong, found, held, beside] = [0, 0, 0, 0];
    const runs = 40;
    for (let seed = 1; seed <= runs; seed++) {
      const still = makeCampaigns({ seed: 700 + seed, campaigns: 5 }).slices;
      if (trendOverCampaigns(still).value.trends.length > 0) wrong++;
      const made = makeCampaigns({ seed: 500 + seed, campaigns: 5, change: drying }).slices;
      const { trends } = trendOverCampaigns(made).value;
      const hit = trends.find((one) => one.from_m < 440 && one.to_m > 400);
      if (trends.some((one) => one !== hit)) beside++;
      if (hit?.direction !== "falls") continue;
      found++;
      const [lo, hi] = hit.ratioPerYearInterval;
      if (lo <= yearly && hi >= yearly) held++;
    }
    // At most 5 %: of 40, up to 4 are within two binomial deviations.
    expect(wrong, `${wrong} false`).toBeLessThanOrEqual(4);
    expect(beside).toBeLessThanOrEqual(4);
    expect(found, `${found} found`).toBeGreaterThanOrEqual(35);
    expectShare([held, found], 0.9, 2);
  });
});
