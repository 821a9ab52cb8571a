import { describe, expect, it } from "vitest";
import { fitHead, testFit } from "../../../lib/campaigns/head/head-fit.js";
import { headDefaults } from "../../../lib/campaigns/head/options.js";
import { responseToHead } from "../../../lib/campaigns/head/response-to-head.js";
import type { DepthSlices } from "../../../lib/depth/depth-slices.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import type { WaterLevel } from "../../../lib/survey/survey.js";
import { expectDraws, expectValidSpec } from "../../figures/support/check-spec.js";
import { makeCampaigns } from "../../support/campaign-pairs.js";
import { expectClose } from "../../support/expect-close.js";
import { expectFault } from "../../support/expect-fault.js";

const DAY_S = 86400;

/** A river of five waves of 25 to 110 days, a reading a day from January 2031 for six years. */
function river(seed: number): WaterLevel[] {
  const random = seededRandom(seed);
  const waves = Array.from({ length: 5 }, (_, w) => ({
    days: 25 * 1.45 ** w,
    phase: 2 * Math.PI * random.uniform(),
  }));
  const at = (day: number) =>
    waves.reduce((sum, { days, phase }) => sum + Math.sin((2 * Math.PI * day) / days + phase), 0);
  return Array.from({ length: 6 * 365 }, (_, day) => ({
    time_s: Date.UTC(2031, 0, 1) / 1000 + day * DAY_S,
    point: "river",
    level_m: 1.5 + 0.6 * at(day),
    chainage_m: null,
  }));
}

const levelAt = (levels: readonly WaterLevel[], time_s: number) =>
  levels.reduce((best, one) =>
    Math.abs(one.time_s - time_s) < Math.abs(best.time_s - time_s) ? one : best,
  ).level_m;

interface Wend {
  readonly seed: number;
  readonly campaigns: number;
  /** log10 a metre between 400 and 450 m in the two shallow slices. */
  readonly response?: number;
  readonly lag_days?: number;
}

function alongWend({ seed, campaigns, response = 0, lag_days = 0 }: Wend) {
  const waterLevels = river(seed);
  const time = (c: number) => Date.UTC(2031, 3 + 6 * c, 6, 9) / 1000;
  const change = (x: number, k: number, c: number) =>
    k < 2 && x >= 400 && x <= 450
      ? response * (levelAt(waterLevels, time(c) - lag_days * DAY_S) - 1.5)
      : 0;
  return { slices: makeCampaigns({ seed, campaigns, change }).slices, survey: { waterLevels } };
}

const responseAt = (made: { slices: readonly DepthSlices[]; survey: object }, options = {}) =>
  responseToHead(made.slices, made.survey as { waterLevels: WaterLevel[] }, options).value;

describe("responseToHead", () => {
  it("finds a strong response in nine of ten lines, holds its slope, and invents few", () => {
    let [found, held, invented, beside] = [0, 0, 0, 0];
    const runs = 30;
    for (let seed = 1; seed <= runs; seed++) {
      const still = responseAt(alongWend({ seed: 900 + seed, campaigns: 6 }));
      if (still.stretches.some((one) => one.responds)) invented++;
      const { stretches } = responseAt(
        alongWend({ seed: 300 + seed, campaigns: 6, response: -0.1 }),
        { stretches: [...even(8), { from_m: 405, to_m: 445 }], lags_days: [0] },
      );
      const hit = stretches.at(-1)!;
      if (stretches.slice(0, -1).some((one) => one.responds)) beside++;
      if (!hit.responds) continue;
      found++;
      const { interval } = hit.bySlice[0]!;
      if (interval[0] <= 10 ** -0.1 && interval[1] >= 10 ** -0.1) held++;
    }
    expect(found, `${found} found`).toBeGreaterThanOrEqual(27);
    // At most 5 %: of 30, up to 4 are within two binomial deviations.
    expect(invented, `${invented} invented`).toBeLessThanOrEqual(4);
    expect(beside, `${beside} beside`).toBeLessThanOrEqual(5);
    expect(held / found, `${held} of ${found} held`).toBeGreaterThanOrEqual(0.75);
  });

  it("tells the lag where there are campaigns enough, and its range holds it", () => {
    let [best, within] = [0, 0];
    for (let seed = 1; seed <= 8; seed++) {
      const made = alongWend({ seed: 40 + seed, campaigns: 10, response: -0.1, lag_days: 14 });
      const { stretches } = responseAt(made, {
        stretches: [...even(6), { from_m: 405, to_m: 445 }],
      });
      const { lag_days, lagRange_days } = stretches.at(-1)!.bySlice[0]!;
      if (lag_days === 14) best++;
      if (lagRange_days[0] <= 14 && lagRange_days[1] >= 14) within++;
    }
    expect(best).toBeGreaterThanOrEqual(5);
    expect(within).toBeGreaterThanOrEqual(6);
  });

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
      'option-value options.stretches must be "even" or one or more stretches with from_m below to_m, got ',
    ],
    [
      { lags_days: [-1] },
      "option-range options.lags_days[0] must be a list of 1 or more, each a number at least 0 days, got -1",
    ],
    [{ evenLength_m: 0 }, "option-range options.evenLength_m must be a number above 0 m, got 0"],
    [{ q: 2 }, "option-range options.q must be a number above 0 and at most 0.999, got 2"],
  ])("refuses %j", (options, text) => {
    const made = alongWend({ seed: 6, campaigns: 3 });
    const call = () => responseToHead(made.slices, made.survey, options);
    expectFault(call, text);
  });
});

describe("fitHead and testFit", () => {
  it("fit a straight line, and test it by Student's t with the line's scatter", () => {
    const fit = fitHead([1, 2, Number.NaN, 3, 4], [2, 4, 9, 5, 9])!;
    // By hand: h̄ 2.5, ȳ 5, Σhh 5, Σhy 11, Σyy 26.
    expectClose(fit.slope, 2.2, { absolute: 1e-12 });
    expectClose(fit.rest, 1.8, { absolute: 1e-12 });
    expect(fit.dof).toBe(2);
    const { interval, p } = testFit(fit, 0.9);
    // s² = (4 × 0.9 + 1.8) / 6 = 0.9; error √(0.9/5) = 0.4243; t(0.1; 6) = 1.943 (A&S 26.10).
    expectClose(interval[1] - 2.2, 1.943 * 0.424264, { absolute: 5e-4 });
    expect(p).toBeLessThan(0.01);
    expect(fitHead([1, 1, 1], [1, 2, 3])).toBe(null);
    expect(fitHead([1, 2], [1, 2])).toBe(null);
  });
});

/** Stretches of 40 m from 0 m, clear of 400–450 m. */
function even(count: number) {
  return Array.from({ length: count }, (_, i) => ({ from_m: 40 * i, to_m: 40 * i + 40 }));
}
