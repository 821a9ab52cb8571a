import { describe, expect, it } from "vitest";
import { correctDrift } from "../../lib/drift/correct-drift.js";
import { frozen } from "../../lib/step/frozen.js";
import type { Campaign } from "../../lib/survey/survey.js";
import { snapshot } from "../support/campaign.js";
import { drifting, level } from "../support/drifting.js";
import { expectClose } from "../support/expect-close.js";

describe("correctDrift keeps its symmetries", () => {
  const campaign = drifting({ seed: 7, truth: [{ perHour: 90, step: -50 }] });
  const before = correctDrift(campaign).value;

  const changed = (value: (v: number) => number, shift_s: number): Campaign => ({
    ...campaign,
    passes: campaign.passes.map((pass) => ({
      ...pass,
      time_s: pass.time_s.map((t) => t + shift_s),
      values: pass.values.map((column) => column.map(value)),
    })),
    baseChecks: campaign.baseChecks.map((check) => ({
      ...check,
      time_s: check.time_s + shift_s,
      values: { q_0: value(check.values.q_0!) },
    })),
  });

  it("under a change of unit and sign", () => {
    const after = correctDrift(changed((v) => -0.001 * v, 0)).value;
    expectClose(after.drift[0]!.perHour, -0.001 * before.drift[0]!.perHour, { relative: 1e-9 });
    expectClose(after.drift[0]!.steps[0]!.size, -0.001 * before.drift[0]!.steps[0]!.size, {
      relative: 1e-9,
    });
  });

  it("under a shift of time and of level", () => {
    const after = correctDrift(changed((v) => v + 5000, 86_400)).value;
    expectClose(after.drift[0]!.perHour, before.drift[0]!.perHour, { relative: 1e-6 });
    const steps = [after, before].map((one) => one.drift[0]!.steps[0]!.time_s);
    expectClose(steps[0]! - steps[1]!, 86_400, { absolute: 1e-3 });
  });

  it("takes readings at the first check as they are: it is the reference", () => {
    const free = drifting({ seed: 1, truth: [{ perHour: 100, step: 0 }], noise: 1e-6 });
    const { values, time_s } = correctDrift(free).value.passes[0]!;
    expect(time_s[0]! - free.baseChecks[0]!.time_s).toBeGreaterThan(0);
    for (const value of values[0]!) expectClose(value, level, { absolute: 0.5 });
  });
});

describe("correctDrift and its input", () => {
  const campaign = drifting({ seed: 2, truth: [{ perHour: 90, step: 0 }] });

  it("mutates nothing, and hands on a campaign", () => {
    const before = snapshot(campaign);
    const { value } = correctDrift(frozen(campaign));
    expect(snapshot(campaign)).toBe(before);
    expect(Object.keys(value)).toEqual([...Object.keys(campaign), "drift"]);
    expect(value.passes[0]!.values[0]).not.toBe(campaign.passes[0]!.values[0]);
  });

  it("takes the result of a step as well as a plain campaign", () => {
    const once = correctDrift(campaign, { model: "none" });
    expect(correctDrift(once).value.drift).toEqual(correctDrift(campaign).value.drift);
  });

  it("marks the rows it changed, and accounts for all", () => {
    const { value, accounting } = correctDrift(campaign);
    const marks = value.passes[0]!.corrected.reduce((sum, one) => sum + one, 0);
    expect(accounting).toMatchObject({ readings: 600, corrected: marks, setAside: [] });
    expect(marks).toBe(600);
  });

  it("keeps missing values missing, and readings without a time as they are", () => {
    const pass = campaign.passes[0]!;
    const values = [Float64Array.from(pass.values[0]!)];
    const time_s = Float64Array.from(pass.time_s);
    values[0]![5] = Number.NaN;
    time_s[6] = Number.NaN;
    const { value, cautions } = correctDrift({
      ...campaign,
      passes: [{ ...pass, values, time_s }],
    });
    expect(value.passes[0]!.values[0]![5]).toBeNaN();
    expect(value.passes[0]!.values[0]![6]).toBe(values[0]![6]);
    expect([...value.passes[0]!.corrected.subarray(4, 8)]).toEqual([1, 0, 0, 1]);
    expect(cautions.map(({ text }) => text).join()).toContain("1 readings have no time");
  });

  it("leaves a campaign without base checks as it is, with a caution", () => {
    const bare = correctDrift({ ...campaign, baseChecks: [] });
    expect(bare.value.drift[0]).toMatchObject({
      model: "none",
      checks: 0,
      reason: "no base checks",
    });
    expect(bare.value.passes[0]!.values).toEqual(campaign.passes[0]!.values);
    expect(bare.cautions.map(({ text }) => text).join()).toContain("no base checks");
    expect(bare.figures).toEqual([]);
  });

  it("says so where one visit, or one repeat a visit, cannot show drift", () => {
    const first = campaign.baseChecks.slice(0, 12);
    const one = correctDrift({ ...campaign, baseChecks: first });
    expect(one.value.drift[0]!.reason).toBe("only one base check");
    const single = campaign.baseChecks.filter((_, i) => i === 0 || i === 71);
    const two = correctDrift({ ...campaign, baseChecks: single });
    expect(two.value.drift[0]!.reason).toContain("too few repeats");
    const anyway = correctDrift({ ...campaign, baseChecks: single }, { always: true });
    expect(anyway.value.drift[0]!.model).toBe("piecewise-linear");
  });

  it("says how many readings lie outside the checks", () => {
    const late = { ...campaign, baseChecks: campaign.baseChecks.slice(12) };
    expect(
      correctDrift(late)
        .cautions.map(({ text }) => text)
        .join(),
    ).toMatch(/\d+ readings lie before the first or after the last base check/);
  });

  it("withstands a bad repeat", () => {
    const campaign = drifting({ seed: 4, truth: [{ perHour: 80, step: 0 }] });
    const spoiled = {
      ...campaign,
      baseChecks: campaign.baseChecks.map((check, i) =>
        i === 30 ? { ...check, values: { q_0: 9999 } } : check,
      ),
    };
    const [clean, robust] = [correctDrift(campaign), correctDrift(spoiled)];
    const [a, b] = [clean.value.drift[0]!.perHour, robust.value.drift[0]!.perHour];
    expectClose(b, a, { absolute: 2 });
    expect(robust.cautions.map(({ text }) => text).join()).toContain("bad repeats");
  });

  it("names every fault at once, and refuses what is no campaign", () => {
    const act = () => correctDrift({} as Campaign, { stepSpeed: 0, significance: 0 });
    expect(act).toThrow(/stepSpeed[\s\S]*significance[\s\S]*campaign must be a campaign/);
  });
});
