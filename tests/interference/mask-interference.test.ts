import { describe, expect, it } from "vitest";
import { maskInterference } from "../../lib/interference/mask-interference.js";
import type { Masked } from "../../lib/interference/masked.js";
import type { MaskOptions } from "../../lib/interference/options.js";
import { frozen } from "../../lib/step/frozen.js";
import { StepError } from "../../lib/step/step-error.js";
import type { Campaign, Pass } from "../../lib/survey/survey.js";
import { snapshot } from "../support/campaign.js";
import { disturbed } from "../support/disturbed.js";

const holds = (value: Masked, at_m: number) =>
  value.interference.some(({ from_m, to_m }) => from_m <= at_m && to_m >= at_m);

describe("maskInterference keeps its symmetries", () => {
  const metal = [{ at_m: 150, size: 10 }];
  const campaign = disturbed({ seed: 11, metal, edges_m: [220], length_m: 300 });
  const [before] = maskInterference(campaign).value.interference;

  const moved = (place: (x: number) => number): Campaign => ({
    ...campaign,
    passes: campaign.passes.map((pass) => ({ ...pass, chainage_m: pass.chainage_m.map(place) })),
  });

  it("when the line is reversed", () => {
    const [after] = maskInterference(moved((x) => 300 - x)).value.interference;
    expect(after!.from_m).toBeCloseTo(300 - before!.to_m, 6);
    expect(after!.to_m).toBeCloseTo(300 - before!.from_m, 6);
    expect(after!.readings).toBe(before!.readings);
  });

  it("when the line is shifted", () => {
    const [after] = maskInterference(moved((x) => x + 4321)).value.interference;
    expect(after!.from_m).toBeCloseTo(before!.from_m + 4321, 6);
    expect(after!.score).toBeCloseTo(before!.score, 6);
  });

  it("when quadratures come as conductivities in mS/m", () => {
    const inUnits = campaign.passes.map((pass): Pass => {
      const factor = pass.instrument.channels.map(({ kind, frequency_Hz, separation_m }) =>
        // Low-induction conductivity, McNeill 1980: 4 Im / (ω μ0 s²), mS/m for ppm.
        kind === "inphase"
          ? 1
          : (4 * 1e-3) / (2 * Math.PI * frequency_Hz * 4e-7 * Math.PI * separation_m ** 2),
      );
      const channels = pass.instrument.channels.map((channel) =>
        channel.kind === "inphase"
          ? channel
          : ({ ...channel, kind: "conductivity", unit: "mS/m" } as const),
      );
      const values = pass.values.map((column, c) => column.map((value) => value * factor[c]!));
      return { ...pass, values, instrument: { ...pass.instrument, channels } };
    });
    const [after] = maskInterference({ ...campaign, passes: inUnits }).value.interference;
    expect(after!.from_m).toBeCloseTo(before!.from_m, 6);
    expect(after!.to_m).toBeCloseTo(before!.to_m, 6);
  });
});

describe("maskInterference and the readings", () => {
  const metal = [{ at_m: 80, size: 12 }];
  const campaign = disturbed({ seed: 6, metal, orientations: ["HCP", "VCP"], length_m: 200 });

  it("mutates nothing, and hands on a campaign", () => {
    const before = snapshot(campaign);
    const { value } = maskInterference(frozen(campaign));
    expect(snapshot(campaign)).toBe(before);
    const added = ["interference", "unexplained", "silentNotes", "alongLine", "noise"];
    expect(Object.keys(value)).toEqual([...Object.keys(campaign), ...added]);
    expect(value.passes[0]!.values).toEqual(campaign.passes[0]!.values);
  });

  it("says that metal is not told from short bodies of ground without in-phase", () => {
    const passes = campaign.passes.map((pass): Pass => {
      const isKept = (_: unknown, c: number) => pass.instrument.channels[c]!.kind !== "inphase";
      const channels = pass.instrument.channels.filter(isKept);
      const [values, setAside] = [pass.values.filter(isKept), pass.setAside.filter(isKept)];
      return { ...pass, values, setAside, instrument: { ...pass.instrument, channels } };
    });
    const textOf = (given: Campaign) =>
      maskInterference(given)
        .cautions.map(({ text }) => text)
        .find((text) => text.includes("no note explains it"));
    expect(textOf(campaign)).toContain("the readings show metal and no note explains it");
    expect(textOf({ ...campaign, passes })).toContain("there is no in-phase to tell the two apart");
  });

  it("looks past missing values and positions", () => {
    const passes = campaign.passes.map((pass) => ({
      ...pass,
      chainage_m: pass.chainage_m.map((x, i) => (i % 10 === 3 ? Number.NaN : x)),
      values: pass.values.map((column) =>
        column.map((value, i) => (i % 7 === 2 ? Number.NaN : value)),
      ),
    }));
    const { value, accounting } = maskInterference({ ...campaign, passes });
    expect(value.interference).toHaveLength(1);
    expect(holds(value, 80)).toBe(true);
    expect(accounting!.readings).toBe(passes.reduce((sum, { count }) => sum + count, 0));
  });

  it("says when nothing is set aside, and when there are too few readings to look", () => {
    const clean = disturbed({ seed: 3, length_m: 200 });
    const quiet = maskInterference(clean);
    expect(quiet.value.interference).toEqual([]);
    expect(quiet.summary).toMatch(/^No stretch of campaign 2031-10 is set aside/);
    const short = maskInterference(disturbed({ seed: 3, length_m: 4 }));
    expect(short.value.interference).toEqual([]);
    expect(short.cautions.map(({ text }) => text).join()).toContain("too few readings");
  });

  it("accepts a campaign without passes", () => {
    const none = maskInterference({ ...campaign, passes: [] });
    expect(none.value.interference).toEqual([]);
    expect(none.accounting).toMatchObject({ readings: 0 });
    expect(none.figures).toEqual([]);
  });

  it.each<[string, unknown, string, string]>([
    ["a threshold of 0", { threshold: 0 }, "option-range", "options.threshold"],
    ["NaN", { window_m: Number.NaN }, "option-range", "options.window_m"],
    ["a share above 1", { share: 2 }, "option-range", "options.share"],
    ["a negative margin", { margin_m: -1 }, "option-range", "options.margin_m"],
    ["growth above the threshold", { growTo: 9 }, "option-order", "options.growTo"],
    ["a word for yes", { maskSilent: "yes" }, "option-value", "options.maskSilent"],
    ["a negative reach", { reach_m: -3 }, "option-range", "options.reach_m"],
    ["a misspelt option", { treshold: 4 }, "option-unknown", "options.treshold"],
  ])("refuses %s", (_, options, code, path) => {
    const act = () => maskInterference(campaign, options as MaskOptions);
    expect(act).toThrow(`maskInterference: ${path} must be`);
    try {
      act();
    } catch (error) {
      expect(error).toBeInstanceOf(StepError);
      expect((error as StepError).faults).toMatchObject([{ code, path }]);
    }
  });
});
