import { describe, expect, it } from "vitest";
import { correctDrift } from "../../lib/drift/correct-drift.js";
import type { DriftOptions } from "../../lib/drift/options.js";
import { StepError } from "../../lib/step/step-error.js";
import { campaignStart_s } from "../support/campaign.js";
import { drifting, level } from "../support/drifting.js";
import { expectClose } from "../support/expect-close.js";

describe("a declared re-start", () => {
  // A step of 90 ppm at 1.25 h, between visits at 0.6 and 1.9 h: too far apart to be found.
  const truth = [{ perHour: 60, step: 90 }];
  const campaign = drifting({ seed: 9, truth, visits_h: [0, 0.3, 0.6, 1.9, 2.2, 2.5] });
  const at_s = campaignStart_s + 1.25 * 3600;
  const worst = (value: ReturnType<typeof correctDrift>["value"]) =>
    Math.max(...value.passes[0]!.values[0]!.map((one) => Math.abs(one - level)));

  it("frees the level where no step could be found", () => {
    const without = correctDrift(campaign).value;
    expect(without.drift[0]!.steps).toEqual([]);
    const declared = correctDrift(campaign, { restarts: [at_s] }).value;
    expect(declared.drift[0]!.steps).toHaveLength(1);
    // The step's error: both slopes run on for 0.65 h from three visits of 3.5 ppm each.
    expectClose(declared.drift[0]!.steps[0]!.size, 90, { absolute: 25 });
    expect(worst(declared)).toBeLessThan(20);
    expect(worst(without)).toBeGreaterThan(30);
  });

  it("may be a time of day with its offset", () => {
    const text = new Date(1000 * at_s).toISOString();
    const [a, b] = [at_s, text].map((one) => correctDrift(campaign, { restarts: [one] }).value);
    expect(b!.drift[0]!.steps).toEqual(a!.drift[0]!.steps);
  });

  it("replaces a step that is found in the same gap, in every model", () => {
    const found = drifting({ seed: 3, truth: [{ perHour: 40, step: 120 }] });
    for (const model of ["piecewise-linear", "random-walk", "smoothing-spline"] as const) {
      const { drift } = correctDrift(found, { model, restarts: [at_s + 60] }).value;
      expect(drift[0]!.steps).toHaveLength(1);
      expect(drift[0]!.steps[0]!.time_s).toBe(at_s + 60);
      expectClose(drift[0]!.steps[0]!.size, 120, { absolute: 20 });
    }
  });

  it("changes nothing outside the checks", () => {
    const early = correctDrift(campaign, { restarts: [campaignStart_s - 900] }).value;
    expect(early.drift).toEqual(correctDrift(campaign).value.drift);
  });

  it.each([
    ["a time without offset", ["2031-10-14T09:15:00"]],
    ["a word", ["noon"]],
    ["NaN", [Number.NaN]],
  ])("refuses %s", (_, restarts) => {
    expect(() => correctDrift(campaign, { restarts })).toThrow(
      "correctDrift: options.restarts[0] must be a list of times",
    );
  });
});

describe("options of correctDrift", () => {
  const campaign = drifting({ seed: 2, truth: [{ perHour: 90, step: 0 }] });

  it.each<[string, unknown, string, string]>([
    [
      "a negative gap",
      { groupWithin_s: -1 },
      "option-range",
      "options.groupWithin_s must be a number above 0 s, got -1",
    ],
    [
      "NaN",
      { stepMinimum: Number.NaN },
      "option-range",
      "options.stepMinimum must be a number above 0, got NaN",
    ],
    [
      "a certainty",
      { significance: 1 },
      "option-range",
      "options.significance must be a number above 0 and below 1, got 1",
    ],
    [
      "no evidence at all",
      { evidence: 0 },
      "option-range",
      "options.evidence must be a number above 0, got 0",
    ],
    [
      "an unknown model",
      { model: "spline" },
      "option-value",
      'options.model must be one of "auto", "average", "piecewise-linear", "random-walk", ' +
        '"smoothing-spline", "none", got "spline"',
    ],
    [
      "a word for yes",
      { always: "yes" },
      "option-value",
      'options.always must be true or false, got "yes"',
    ],
    ["a misspelt option", { significanse: 0.1 }, "option-unknown", "did you mean significance?"],
  ])("refuses %s", (_, options, code, text) => {
    const act = () => correctDrift(campaign, options as Partial<DriftOptions>);
    expect(act).toThrow(StepError);
    expect(act).toThrow(/^correctDrift: options\.\w+ must be /);
    expect(act).toThrow(text);
    expect(act).toThrow(expect.objectContaining({ faults: [expect.objectContaining({ code })] }));
  });
});
