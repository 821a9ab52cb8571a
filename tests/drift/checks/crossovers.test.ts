import { describe, expect, it } from "vitest";
import { crossoversOf } from "../../../lib/drift/checks/crossovers.js";
import { correctDrift } from "../../../lib/drift/correct-drift.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import type { Campaign } from "../../../lib/survey/survey.js";
import { campaignOf, campaignStart_s, channelOf } from "../../support/campaign.js";
import { NOISE, thereAndBack } from "../support.js";

const options = { crossingWithin_m: 1, crossingApart_s: 600 };
describe("crossoversOf", () => {
  it("finds by how much the same places rose", () => {
    const found = crossoversOf(
      thereAndBack(1, (h) => 120 * h),
      options,
    ).get("q_4800_hcp")!;
    expect(found.length).toBeGreaterThan(5);
    for (const { from_s, to_s, rise, error } of found) {
      expect(Math.abs(rise - (120 * (to_s - from_s)) / 3600)).toBeLessThan(5 * error);
    }
  });

  it("takes nothing from readings side by side, or soon after each other", () => {
    expect(
      crossoversOf(
        thereAndBack(1, () => 0, 3),
        options,
      ).size,
    ).toBe(0);
    const slow = { ...options, crossingApart_s: 1e5 };
    expect(
      crossoversOf(
        thereAndBack(1, () => 0),
        slow,
      ).size,
    ).toBe(0);
  });
});

describe("many crossovers", () => {
  /** Four channels over 2.5 hours, to and fro so unevenly that any two times meet; 12 visits. */
  function criss(): Campaign {
    const random = seededRandom(11);
    const hours = Array.from({ length: 6000 }, (_, i) => (2.5 * i) / 6000);
    const places = hours.map((h) => 100 * (2 + Math.sin(17 * h) + Math.sin(29.3 * h)));
    const channels = Array.from({ length: 4 }, (_, c) => channelOf({ field: `q_${c}` }));
    const values = channels.map((_, c) =>
      hours.map(
        (h, i) => 800 + 20 * Math.sin(places[i]! / 9) + 15 * c * h + NOISE * random.normal(),
      ),
    );
    const baseChecks = Array.from({ length: 120 }, (_, i) => {
      const h = (2.5 * Math.floor(i / 10)) / 11 + (i % 10) / 1200;
      const at = (c: number) => 700 + 15 * c * h + NOISE * random.normal();
      const entries = channels.map(({ field }, c) => [field, at(c)] as const);
      return { time_s: campaignStart_s + 3600 * h, values: Object.fromEntries(entries) };
    });
    const time_s = hours.map((h) => campaignStart_s + 3600 * h);
    return campaignOf({ passes: [{ channels, chainage_m: places, time_s, values }], baseChecks });
  }
  const campaign = criss();

  it("are gathered into no more than forty a channel, and all pairs take part", () => {
    const found = crossoversOf(campaign, options);
    const few = crossoversOf(campaign, { ...options, crossingApart_s: 7200 });
    expect(found.size).toBe(4);
    for (const [field, own] of found) {
      expect(own.length).toBeLessThanOrEqual(40);
      expect(own.length).toBeGreaterThan(few.get(field)!.length);
      expect(own.reduce((sum, { pairs }) => sum + pairs, 0)).toBeGreaterThan(4000);
    }
  });

  it("agree with the visits beside them", () => {
    const { drift } = correctDrift(campaign, { crossings: "always" }).value;
    for (const [c, { perHour, perHourError }] of drift.entries()) {
      expect(Math.abs(perHour - 15 * c)).toBeLessThan(4 * perHourError);
    }
  });
});
