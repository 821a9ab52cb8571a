import { describe, expect, it } from "vitest";
import { trendDefaults } from "../../../lib/campaigns/trend/options.js";
import { trendOverCampaigns } from "../../../lib/campaigns/trend/trend-over-campaigns.js";
import { expectDraws, expectValidSpec } from "../../figures/support/check-spec.js";
import { makeCampaigns, type PairMaker } from "../../support/campaign-pairs.js";
import { makeDepthSlices } from "../../support/depth-slices.js";
import { expectClose } from "../../support/expect-close.js";
import { expectFault } from "../../support/expect-fault.js";

/** Falls by 5.6 % from a campaign to the next, two a year, over 40 m in the two shallow slices. */
const drying = (x: number, k: number, campaign: number) =>
  k < 2 && x >= 400 && x <= 440 ? -0.025 * campaign : 0;
const yearly = 10 ** -0.05;

/** 600 m: every order of the campaigns is tried on every station. */
const campaignsOf = (maker: PairMaker) => makeCampaigns({ stations: 300, ...maker });

describe("trendOverCampaigns", () => {
  it("states place, way, rate, slices and the ratio of each campaign", () => {
    const { slices } = campaignsOf({
      seed: 3,
      campaigns: 6,
      change: drying,
      sd: 0.01,
      sharedError: 0.005,
      misplaced_m: 0,
      texture: 0.02,
    });
    const { trends } = trendOverCampaigns(slices).value;
    expect(trends.length).toBe(1);
    const [one] = trends;
    // Half height: within two stations of either end.
    expectClose(one!.from_m, 400, { absolute: 5 });
    expectClose(one!.to_m, 440, { absolute: 5 });
    expect(one!.direction).toBe("falls");
    // Errors of 0.01 over fifteen stations, five steps in 2.5 years: 0.3 %; times three.
    expectClose(one!.ratioPerYear, yearly, { absolute: 0.012 });
    expect(one!.slices).toEqual(["0.0–1.0", "1.0–2.5"]);
    expect(one!.ratio.length).toBe(6);
    expect(one!.ratio[0]).toBeGreaterThan(one!.ratio[5]!);
    // Every one of the 720 orders was tried: the given one and its reverse are as heavy.
    expect(one!.q).toBeLessThanOrEqual(6 / 720);
  });

  it("reports no trend on three or four campaigns, says why, and still draws them", async () => {
    const { slices } = campaignsOf({ seed: 4, campaigns: 4, change: drying });
    const result = trendOverCampaigns(slices);
    expect(result.value.trends).toEqual([]);
    expect(result.cautions[0]!.text).toMatch(/2 in 24 by chance, over 5 %\. It takes five\./);
    expect(result.summary).toMatch(/too few to tell a trend from chance/);
    expect(result.value.slope[0]!.some((value) => value < 0)).toBe(true);
    expect(result.figures[0]!.title).toBe("4 campaigns, too few to tell a trend from chance");
    expectValidSpec(result.figures[0]!.spec);
    await expectDraws(result.figures[0]!.spec);
  });

  it("does not depend on the order in which the campaigns are given", () => {
    const { slices } = campaignsOf({ seed: 5, campaigns: 5, change: drying });
    const back = trendOverCampaigns([...slices].reverse()).value;
    expect(back).toEqual(trendOverCampaigns(slices).value);
  });

  it("leaves unknown what the campaigns do not show, and says so", () => {
    const { slices } = campaignsOf({ seed: 6, campaigns: 5, change: drying });
    const gap = (column: Float64Array) =>
      column.map((v, i) => (i >= 50 && i < 80 ? Number.NaN : v));
    const holed = slices.map((one) => ({
      ...one,
      log10Resistivity: one.log10Resistivity.map(gap),
      sd: one.sd.map(gap),
    }));
    const { value } = trendOverCampaigns(holed);
    expect(value.unknown).toEqual([{ from_m: 99, to_m: 159 }]);
    expect(value.slope[0]![60]).toBeNaN();
    expect(value.p[0]![60]).toBeNaN();
  });

  it("corrects for likeness between successive campaigns from ten on", () => {
    const few = campaignsOf({ seed: 7, campaigns: 5 }).slices;
    expect(trendOverCampaigns(few).value.inflation).toBe(1);
    // Moisture that lingers: each campaign's deviation is 0.8 of the last one's and something new,
    // the same over 20 m.
    const lingering = (x: number, _: number, campaign: number) => {
      let state = 0;
      for (let c = 1; c <= campaign; c++) {
        state = 0.8 * state + 0.12 * Math.sin(12.9898 * c + 78.233 * Math.floor(x / 20));
      }
      return state;
    };
    const many = campaignsOf({ seed: 8, campaigns: 12, change: lingering }).slices;
    const result = trendOverCampaigns(many, { draws: 199 });
    expect(result.value.inflation).toBeGreaterThan(1.5);
    expect(result.cautions.some(({ text }) => /from under ten/.test(text))).toBe(false);
  });

  it("accounts for itself, changes nothing, and gives the same twice", async () => {
    const { slices } = campaignsOf({ seed: 10, stations: 500, campaigns: 5, change: drying });
    const before = structuredClone(slices);
    const result = trendOverCampaigns(slices, Object.freeze({ q: 0.04 }));
    expect(slices).toEqual(before);
    expect(result.used).toEqual({ ...trendDefaults, q: 0.04 });
    expect(result.basis.every(({ source }) => source.length > 0)).toBe(true);
    expect(trendOverCampaigns(slices, { q: 0.04 }).value).toEqual(result.value);
    expect(result.tables[0]!.rows.length).toBe(result.value.trends.length);
    expect(result.figures[0]!.title).toMatch(
      /^Resistivity falls by \d+\.\d % a year at 4\d\d–4\d\d m/,
    );
    expectValidSpec(result.figures[0]!.spec);
    await expectDraws(result.figures[0]!.spec);
  });

  it.each<[number, object, string]>([
    [2, {}, "length slices must be at least 3 campaigns, got 2"],
    [3, { q: 0 }, "option-range options.q must be a number above 0 and at most 0.999, got 0"],
    [
      3,
      { draws: 5 },
      "option-range options.draws must be a number at least 99 and at most 99999, got 5",
    ],
    [
      3,
      { level: "mean" },
      'option-value options.level must be one of "majority", "none", got "mean"',
    ],
    [
      3,
      { smoothing_m: Number.NaN },
      "option-range options.smoothing_m must be a number at least 0 m, got NaN",
    ],
  ])("refuses %i campaigns with %j", (count, options, text) => {
    const slices = Array.from({ length: count }, (_, c) =>
      makeDepthSlices({ stations: 40, seed: c, time_s: 1e9 + 1e7 * c }),
    );
    const call = () => trendOverCampaigns(slices, options);
    expectFault(call, text);
  });

  it("names a campaign without a time or of another spacing", () => {
    const slices = [0, 1, 2].map((c) => makeDepthSlices({ stations: 40, time_s: 1e9 + c }));
    const bad = [
      slices[0]!,
      { ...slices[1]!, time_s: Number.NaN },
      { ...slices[2]!, spacing_m: 1 },
    ];
    expect(() => trendOverCampaigns(bad)).toThrow(
      "slices[1].time_s must be the campaign's mean time",
    );
    expect(() => trendOverCampaigns(bad)).toThrow("slices[2].spacing_m must be");
  });
});
