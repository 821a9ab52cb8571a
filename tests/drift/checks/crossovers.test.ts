import { describe, expect, it } from "vitest";
import { crossoversOf } from "../../../lib/drift/checks/crossovers.js";
import { correctDrift } from "../../../lib/drift/correct-drift.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import type { Campaign } from "../../../lib/survey/survey.js";
import { campaignOf, campaignStart_s, channelOf } from "../../support/campaign.js";
import { expectClose } from "../../support/expect-close.js";

const options = { crossingWithin_m: 1, crossingApart_s: 600 };
const NOISE = 12;

/** Out along 1 km of uneven ground and back again, without base checks; drift in ppm by hour. */
function thereAndBack(seed: number, drift: (hours: number) => number, away_m = 0): Campaign {
  const random = seededRandom(seed);
  const ground = Array.from({ length: 1000 }, () => 800 + 40 * random.normal());
  const out = Array.from({ length: 900 }, (_, i) => 1.1 * i);
  const places = [...out, ...[...out].reverse().map((x) => x + 0.3)];
  const time_s = places.map((_, i) => campaignStart_s + 2 * i);
  const smooth = (x: number) => {
    const i = Math.min(996, Math.floor(x));
    return (ground[i]! + ground[i + 1]! + ground[i + 2]!) / 3;
  };
  const values = places.map((x, i) => {
    return smooth(x) + drift((2 * i) / 3600) + NOISE * random.normal();
  });
  const offset = places.map((_, i) => (i < 900 ? 0 : away_m));
  const campaign = campaignOf({
    passes: [{ channels: [channelOf()], chainage_m: places, time_s, values: [values] }],
  });
  const pass = campaign.passes[0]!;
  const northing_m = pass.northing_m.map((y, i) => y + offset[i]!);
  return { ...campaign, passes: [{ ...pass, northing_m }] };
}

describe("crossingsOf", () => {
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

  it("states errors that hold the truth two times out of three", () => {
    const all = Array.from({ length: 20 }, (_, k) => {
      return crossoversOf(
        thereAndBack(k, () => 0),
        options,
      ).get("q_4800_hcp")!;
    }).flat();
    const held = all.filter(({ rise, error }) => Math.abs(rise) < error).length / all.length;
    expect(held).toBeGreaterThan(0.6);
    expect(held).toBeLessThan(0.95);
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

describe("many crossings", () => {
  /** Ten channels over 2.5 hours, to and fro so unevenly that any two times meet; 12 visits. */
  function criss(): Campaign {
    const random = seededRandom(11);
    const hours = Array.from({ length: 6000 }, (_, i) => (2.5 * i) / 6000);
    const places = hours.map((h) => 100 * (2 + Math.sin(17 * h) + Math.sin(29.3 * h)));
    const channels = Array.from({ length: 10 }, (_, c) => channelOf({ field: `q_${c}` }));
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
    expect(found.size).toBe(10);
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

describe("correctDrift without base checks", () => {
  it("takes the drift from readings at the same place, and says so", () => {
    const { value, cautions } = correctDrift(thereAndBack(2, (h) => 150 * h));
    const [drift] = value.drift;
    expect(drift).toMatchObject({ from: "crossings", checks: 0, reason: "" });
    expect(drift!.pairs).toBeGreaterThan(500);
    // The bar for base checks: 15 % of a drift that exceeds the noise.
    expectClose(drift!.perHour, 150, { relative: 0.15 });
    expect(cautions.map(({ text }) => text).join()).toContain("without base checks");
  });

  it("leaves both passes at one level", () => {
    const { value } = correctDrift(thereAndBack(3, (h) => 150 * h));
    const values = [...value.passes[0]!.values[0]!];
    const mean = (list: readonly number[]) => list.reduce((a, b) => a + b, 0) / list.length;
    const apart = mean(values.slice(900)) - mean(values.slice(0, 900));
    // Half the walk lies between the means: 75 ppm apart before.
    expect(Math.abs(apart)).toBeLessThan(5);
  });

  it("leaves a steady channel as it is in nine of ten", () => {
    const left = Array.from({ length: 20 }, (_, k) => correctDrift(thereAndBack(k, () => 0)));
    const none = left.filter(({ value }) => value.drift[0]!.model === "none");
    expect(none.length).toBeGreaterThanOrEqual(18);
  });

  it("bridges two lone checks with them, unless asked not to", () => {
    const campaign = thereAndBack(4, (h) => 150 * h);
    const baseChecks = [0, 1].flatMap((hour) =>
      Array.from({ length: 6 }, (_, k) => ({
        file: "base-checks.csv",
        row: 6 * hour + k + 2,
        spot: "B1",
        time_s: campaignStart_s + 3600 * hour + 2 * k,
        values: { q_4800_hcp: 500 + 150 * hour + 3 * (k % 3) },
      })),
    );
    const both = correctDrift({ ...campaign, baseChecks }).value.drift[0]!;
    expect(both.from).toBe("base checks and crossings");
    expectClose(both.perHour, 150, { relative: 0.1 });
    const never = correctDrift({ ...campaign, baseChecks }, { crossings: "never" }).value.drift[0]!;
    expect(never).toMatchObject({ from: "base checks", pairs: 0 });
  });
});
