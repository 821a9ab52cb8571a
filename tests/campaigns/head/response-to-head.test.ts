import { describe, expect, it } from "vitest";
import { headDefaults } from "../../../lib/campaigns/head/options.js";
import { responseToHead } from "../../../lib/campaigns/head/response-to-head.js";
import { expectDraws, expectValidSpec } from "../../figures/support/check-spec.js";
import { expectFault } from "../../support/expect-fault.js";
import { alongWend } from "../../support/river-and-ground.js";

describe("responseToHead", () => {
  it("refuses on two campaigns, and says why", () => {
    const made = alongWend({ seed: 2, campaigns: 2, response: -0.1 });
    const result = responseToHead(made.slices, made.survey);
    expect(result.value.stretches).toEqual([]);
    expect(result.cautions[0]!.text).toMatch(/two campaigns give one difference/);
    expect(result.summary).toMatch(/too few to tell a response/);
    expect(result.figures).toEqual([]);
  });

  it("says that few campaigns tell no lag, and tries none", () => {
    const made = alongWend({ seed: 3, campaigns: 4, response: -0.1 });
    const result = responseToHead(made.slices, made.survey);
    expect(result.cautions[0]!.text).toMatch(/4 campaigns: only a strong response/);
    for (const one of result.value.stretches) expect(one.bySlice[0]!.lagRange_days).toEqual([0, 0]);
  });

  it("warns where the head goes with time", () => {
    const made = alongWend({ seed: 4, campaigns: 5 });
    const rising = made.survey.waterLevels.map((one, day) => ({ ...one, level_m: day / 300 }));
    const { cautions } = responseToHead(made.slices, { waterLevels: rising });
    expect(cautions.some(({ text }) => /rose or fell with time/.test(text))).toBe(true);
  });

  it("does without campaigns whose level is unknown, and without any level at all", () => {
    const made = alongWend({ seed: 5, campaigns: 5 });
    const from = Date.UTC(2032, 0, 1) / 1000;
    const later = made.survey.waterLevels.filter((one) => one.time_s > from);
    const { value } = responseToHead(made.slices, { waterLevels: later });
    expect(value.head_m.map(Number.isNaN)).toEqual([true, true, false, false, false]);
    expect(responseToHead(made.slices, { waterLevels: [] }).value.stretches).toEqual([]);
  });

  it("accounts for itself and draws", async () => {
    const made = alongWend({ seed: 306, campaigns: 6, response: -0.1 });
    const before = structuredClone(made);
    const result = responseToHead(made.slices, made.survey, { q: 0.04 });
    expect(made).toEqual(before);
    expect(result.used).toEqual({ ...headDefaults, q: 0.04 });
    expect(result.figures[0]!.title).toMatch(
      /^Resistivity follows the river at (399|4\d\d)–4\d\d m/,
    );
    for (const figure of result.figures) {
      expectValidSpec(figure.spec);
      await expectDraws(figure.spec);
    }
    expect(result.tables[0]!.rows[0]!.from_m).toBeGreaterThan(340);
  });

  it.each<[object, string]>([
    [{ point: "P9" }, 'option-value options.point must be one of "river", got "P9"'],
    [
      { stretches: [] },
      'option-value options.stretches must be "even" or one or more stretches with from_m below ' +
        "to_m, got []",
    ],
    [
      { lags_days: [-1] },
      "option-range options.lags_days[0] must be a number at least 0 days, got -1",
    ],
    [{ evenLength_m: 0 }, "option-range options.evenLength_m must be a number above 0 m, got 0"],
    [{ q: 2 }, "option-range options.q must be a number above 0 and at most 0.999, got 2"],
  ])("refuses %j", (options, text) => {
    const made = alongWend({ seed: 6, campaigns: 3 });
    const call = () => responseToHead(made.slices, made.survey, options);
    expectFault(call, text);
  });
});
