import { describe, expect, it } from "vitest";
import { compareCampaigns } from "../../../lib/campaigns/pair/compare-campaigns.js";
import { compareDefaults } from "../../../lib/campaigns/pair/options.js";
import type { DepthSlices } from "../../../lib/depth/depth-slices.js";
import type { SoilTemperature } from "../../../lib/survey/survey.js";
import { autumn_s, makePair, spring_s, wetter } from "../../support/changed-pair.js";
import { makeDepthSlices, reversedSlices } from "../../support/depth-slices.js";
import { expectClose } from "../../support/expect-close.js";
import { expectFault } from "../../support/expect-fault.js";

describe("compareCampaigns", () => {
  it("states place, direction, ratio and slices of a change", () => {
    const pair = makePair({
      seed: 3,
      change: wetter(1.5, 300, 380),
      noise: { texture: 0.005, sd: 0.005 },
    });
    const { changes } = compareCampaigns(...pair).value;
    expect(changes.length).toBe(1);
    const [one] = changes;
    // Half height of the moving mean: within a station (2 m) and its half of either end.
    expectClose(one!.from_m, 300, { absolute: 3 });
    expectClose(one!.to_m, 380, { absolute: 3 });
    expect(one!.direction).toBe("rose");
    // The median of 40 differences with an error of 0.01 decades each: 4 % is over 5 of its errors.
    expectClose(one!.ratio, 1.5, { relative: 0.04 });
    expect(one!.slices).toEqual(["0.0–1.0", "1.0–2.5"]);
    expect(one!.q).toBeLessThan(1e-6);
    expect([one!.earlier, one!.later]).toEqual(["2031-10", "2032-03"]);
  });

  it("keeps a fall and a rise side by side apart", () => {
    const change = (x: number, k: number) =>
      wetter(0.6, 200, 260)(x, k) + wetter(1.6, 262, 330)(x, k);
    const { changes } = compareCampaigns(...makePair({ seed: 4, change })).value;
    expect(changes.map((one) => one.direction)).toEqual(["fell", "rose"]);
    expect(changes[1]!.from_m).toBeGreaterThanOrEqual(changes[0]!.to_m);
  });

  it("removes the level of the stable majority, or leaves it when told to", () => {
    const change = (x: number, k: number) => 0.06 + wetter(0.6, 200, 320)(x, k);
    const pair = makePair({ seed: 25, change });
    const levelled = compareCampaigns(...pair);
    // The median of about 340 stations whose errors are alike over 4 m: 0.01 is over 3 errors.
    for (const level of levelled.value.level) expectClose(level, 0.06, { absolute: 0.01 });
    expect(levelled.value.changes.length).toBe(1);
    expect(levelled.summary).toMatch(/A level common to the line was removed by slice: \+1\d %/);
    const raw = compareCampaigns(...pair, { level: "none" });
    expect(raw.value.level).toEqual([0, 0, 0]);
    expect(raw.value.changes.some((one) => one.direction === "rose")).toBe(true);
  });

  it("compares at 25 °C where both campaigns have soil temperatures", () => {
    const soil = (time_s: number, temperature_degC: number): SoilTemperature[] =>
      [0.2, 1, 3].map((depth_m) => ({ time_s, depth_m, temperature_degC }));
    // Conductivity factors at 10 and 20 °C: 1.41354 and 1.11268 (Corwin & Lesch 2005).
    const change = () => Math.log10(1.41354 / 1.11268);
    const pair = makePair({
      seed: 6,
      change,
      earlier: { soilTemperature: soil(autumn_s, 20) },
      later: { soilTemperature: soil(spring_s, 10) },
    });
    const result = compareCampaigns(...pair);
    // The same ground: what is left is the error of a median over 400 stations, as above.
    for (const level of result.value.level) expectClose(level, 0, { absolute: 0.01 });
    expect(result.summary).toMatch(/Both were taken to 25 °C/);
    expect(compareCampaigns(...pair, { level: "none" }).value.changes).toEqual([]);
  });

  it("does not correct for temperature where either campaign has none, and cautions", () => {
    const result = compareCampaigns(...makePair({ seed: 7 }));
    expect(result.summary).toMatch(/Temperature was not corrected/);
    expect(result.cautions[0]!.text).toMatch(
      /at field temperature: no soil temperature for 2031-10 and 2032-03/,
    );
    expect(result.cautions.every(({ step }) => step === "compareCampaigns")).toBe(true);
  });

  it("lists what is unknown, and leaves it out of the family of tests", () => {
    const pair = makePair({
      seed: 8,
      earlier: { gaps_m: [[100, 120]] },
      later: { gaps_m: [[500, 540]] },
    });
    const result = compareCampaigns(...pair);
    expect(result.value.unknown).toEqual([
      { from_m: 99, to_m: 121 },
      { from_m: 499, to_m: 541 },
    ]);
    expect(result.value.log10Ratio[0]![55]).toBeNaN();
    expect(result.value.log10Ratio[0]![260]).toBeNaN();
    expect(result.cautions.some(({ text }) => /64 m of the line are unknown/.test(text))).toBe(
      true,
    );
  });

  it("does not report a change across a wide unknown stretch", () => {
    const pair = makePair({
      seed: 9,
      change: wetter(0.55, 300, 420),
      later: { gaps_m: [[345, 375]] },
    });
    const { changes } = compareCampaigns(...pair).value;
    expect(changes.length).toBe(2);
    expect(changes[0]!.to_m).toBeLessThanOrEqual(345);
    expect(changes[1]!.from_m).toBeGreaterThanOrEqual(375);
  });

  it("compares the stations and slices that both campaigns have", () => {
    const pair = makePair({ seed: 10, change: wetter(0.55, 300, 380) });
    const cut = shortened(pair[1], 50);
    const { value } = compareCampaigns(pair[0], cut);
    expect(value.chainage_m.length).toBe(350);
    expect(value.chainage_m[0]).toBe(100);
    expect(value.unknown).toEqual([{ from_m: 0, to_m: 100 }]);
    expect(value.changes.length).toBe(1);
    const shallow = {
      ...pair[1],
      slices: pair[1].slices.map((s, k) => ({ ...s, reliable: k < 2 })),
    };
    expect(compareCampaigns(pair[0], shallow).value.slices).toEqual([
      { top_m: 0, base_m: 1 },
      { top_m: 1, base_m: 2.5 },
    ]);
  });

  it("averages the layers again where the slices differ, and cautions", () => {
    const pair = makePair({ seed: 11, change: wetter(0.55, 300, 380) });
    const other = { ...pair[1], slices: [{ top_m: 0, base_m: 5, reliable: true }] };
    const result = compareCampaigns(pair[0], {
      ...other,
      log10Resistivity: [pair[1].log10Resistivity[0]!],
      sd: [pair[1].sd[0]!],
    });
    expect(result.value.slices.length).toBe(3);
    expect(result.value.changes).toEqual(compareCampaigns(...pair).value.changes);
    expect(result.cautions.some(({ text }) => /slices differ/.test(text))).toBe(true);
  });

  it("says why nothing was compared", () => {
    const [earlier, later] = makePair({ seed: 12 });
    const none = {
      ...later,
      slices: later.slices.map((s) => ({ ...s, reliable: false })),
      reliableTo_m: 0,
    };
    const result = compareCampaigns(earlier, none);
    expect(result.value.changes).toEqual([]);
    expect(result.cautions[0]!.text).toMatch(/no depth slice is reliable in both/);
    const blank = makeDepthSlices({ gaps_m: [[0, 1e4]], time_s: spring_s, campaign: "2032-03" });
    expect(compareCampaigns(earlier, blank).cautions[0]!.text).toMatch(
      /no station has an estimate/,
    );
    const far = makeDepthSlices({ from_m: 4000, time_s: spring_s, campaign: "2032-03" });
    expect(compareCampaigns(earlier, far).cautions[0]!.text).toMatch(/no station has an estimate/);
  });

  it("gives the same stretches in another unit, walked backwards, and further along", () => {
    const pair = makePair({ seed: 13, change: wetter(0.6, 300, 380) });
    const spans = (a: DepthSlices, b: DepthSlices) =>
      compareCampaigns(a, b).value.changes.map(({ from_m, to_m, ratio }) => [from_m, to_m, ratio]);
    const changed = (all: number[][]) => all.find(([from]) => Math.abs(from! - 300) < 10)!;
    const span = changed(spans(...pair));
    const scaled = pair.map((one) => ({
      ...one,
      log10Resistivity: one.log10Resistivity.map((column) => column.map((v) => v + 3)),
    }));
    const moved = pair.map((one) => ({ ...one, chainage_m: one.chainage_m.map((x) => x + 600) }));
    const same = changed(spans(scaled[0]!, scaled[1]!));
    const back = spans(reversedSlices(pair[0]), reversedSlices(pair[1]))[0]!;
    const further = spans(moved[0]!, moved[1]!)[0]!;
    // Sums in another order and with other leading digits: rounding only.
    const rounding = { absolute: 1e-9 };
    [span![0]!, span![1]!, span![2]!].forEach((value, i) => expectClose(same[i]!, value, rounding));
    expectClose(798 - back[1]!, span![0]!, rounding);
    expectClose(798 - back[0]!, span![1]!, rounding);
    expectClose(further[0]!, span![0]! + 600, rounding);
  });

  it("does not take a mismatch of positions at a sharp boundary for a change", () => {
    const step = (at: number) => (x: number) => (x < at ? 1.4 : 2.1);
    const errors = { texture: 0.01, correlation_m: 4, sd: 0.01 };
    const earlier = makeDepthSlices({ ...errors, seed: 1, truth: step(400), time_s: autumn_s });
    const later = makeDepthSlices({ ...errors, seed: 2, truth: step(402), time_s: spring_s });
    const close = { minLength_m: 2 };
    const changes = (options: object) =>
      compareCampaigns(earlier, later, { ...close, ...options }).value.changes;
    expect(changes({})).toEqual([]);
    expect(changes({ alignWithin_m: 0, mismatch_m: 1 })).toEqual([]);
    const blind = changes({ alignWithin_m: 0, mismatch_m: 0 });
    expect(blind.map((one) => one.direction)).toEqual(["fell"]);
  });

  it("accounts for itself: options, sources, a figure whose title is the finding, a table", () => {
    const pair = makePair({ seed: 14, change: wetter(0.6, 300, 380) });
    const result = compareCampaigns(...pair, { q: 0.01 });
    expect(result.used).toEqual({ ...compareDefaults, q: 0.01 });
    expect(result.figures[0]!.title).toMatch(
      /^Resistivity fell to 0\.\d\d times at (29|30)\d–3[78]\d m$/,
    );
    expect(result.tables[0]!.rows.length).toBe(1);
    expect(result.basis.every(({ source }) => source.length > 0)).toBe(true);
    const none = compareCampaigns(...makePair({ seed: 14 }));
    expect(none.figures[0]!.title).toBe("No stretch changed from 2031-10 to 2032-03");
    expect(none.tables).toEqual([]);
  });

  it("changes nothing that it was given", () => {
    const pair = makePair({ seed: 15, change: wetter(0.6, 300, 380) });
    const before = structuredClone(pair);
    compareCampaigns(...pair, Object.freeze({ q: 0.1 }));
    expect(pair).toEqual(before);
  });

  it.each<[Partial<DepthSlices>, object, string]>([
    [
      { spacing_m: 1 },
      {},
      "spacing later.spacing_m must be the earlier campaign's spacing (2 m), so that stations " +
        "are shared, got 1",
    ],
    [
      { time_s: autumn_s - 86400 },
      {},
      "order later must be not before the earlier campaign (2031-10), got 2032-03 " +
        "(the two campaigns look swapped)",
    ],
    [{ sd: [] }, {}, "length later.sd must be 3 long, got 0"],
    [
      {},
      { level: "median" },
      'option-value options.level must be one of "majority", "none", got "median"',
    ],
    [{}, { q: 0 }, "option-range options.q must be a number above 0 and at most 0.999, got 0"],
    [
      {},
      { q: Number.NaN },
      "option-range options.q must be a number above 0 and at most 0.999, got NaN",
    ],
    [
      {},
      { smoothing_m: -1 },
      "option-range options.smoothing_m must be a number at least 0 m, got -1",
    ],
    [
      {},
      { alignWithin_m: 21 },
      "option-range options.alignWithin_m must be a number at least 0 and at most 20 m, got 21",
    ],
    [
      {},
      { offsetsAt_m: "200" },
      'option-value options.offsetsAt_m must be a list of chainages, got "200"',
    ],
    [
      {},
      { mismatch_m: -1 },
      "option-range options.mismatch_m must be a number at least 0 m, got -1",
    ],
    [
      {},
      { joinWithin_m: Number.NaN },
      "option-range options.joinWithin_m must be a number at least 0 m, got NaN",
    ],
    [
      {},
      { minLength_m: -1 },
      "option-range options.minLength_m must be a number at least 0 m, got -1",
    ],
  ])("refuses %j with %j", (change, options, text) => {
    const earlier = makeDepthSlices({ stations: 5, time_s: autumn_s });
    const later = makeDepthSlices({ stations: 5, time_s: spring_s, campaign: "2032-03" });
    const call = () => compareCampaigns(earlier, { ...later, ...change }, options);
    expectFault(call, text);
  });
});

/** The slices without their first stations. */
function shortened(given: DepthSlices, from: number): DepthSlices {
  return {
    ...given,
    chainage_m: given.chainage_m.slice(from),
    log10Resistivity: given.log10Resistivity.map((column) => column.slice(from)),
    sd: given.sd.map((column) => column.slice(from)),
    gap: given.gap.slice(from),
    misfit: given.misfit.slice(from),
  };
}
