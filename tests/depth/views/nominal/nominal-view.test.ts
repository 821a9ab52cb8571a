import { describe, expect, it } from "vitest";
import { nominalView } from "../../../../lib/depth/views/nominal/nominal-view.js";
import { lowInductionConductivity } from "../../../../lib/earth/half-space.js";
import { StepError } from "../../../../lib/step/step-error.js";
import { campaignOf, channelOf, snapshot } from "../../../support/campaign.js";
import { expectClose } from "../../../support/expect-close.js";
import { walked } from "../../../support/walked.js";

const half = (ohm_m: number) => ({ conductivity_S_per_m: [1 / ohm_m], thickness_m: [] });
const chainage_m = Array.from({ length: 40 }, (_, i) => 2 * i);

/** One pass of channels, each at one value. */
function steady(channels: readonly ReturnType<typeof channelOf>[], value = 300) {
  const values = channels.map(() => chainage_m.map(() => value));
  return campaignOf({ passes: [{ channels, values, chainage_m }] });
}

describe("nominalView", () => {
  it("gives the low-induction conductivity of each channel, and leaves in-phase out", () => {
    const campaign = walked({ groundAt: () => half(40), length_m: 40 });
    const { value, cautions } = nominalView(campaign);
    expect(value.channels).toHaveLength(10);
    for (const channel of value.channels) {
      const pass = campaign.passes.find((one) =>
        one.resource.endsWith(channel.orientation.toLowerCase()),
      )!;
      const at = pass.instrument.channels.findIndex(({ field }) => field === channel.field);
      const expected = 1000 * lowInductionConductivity(pass.values[at]![3]!, channel);
      expectClose(channel.apparent_mS_per_m[3]!, expected, { relative: 1e-12 });
      // The half-space that gives the reading is the ground itself.
      expectClose(channel.halfSpace_mS_per_m, 25, { relative: 1e-6 });
    }
    expect(cautions.some(({ text }) => text.includes("In-phase"))).toBe(true);
  });

  it("says so where no reading is in use, as where metal is noted all along the line", () => {
    const campaign = steady([channelOf(), channelOf({ frequency_Hz: 9000 })]);
    const passes = campaign.passes.map((pass) => ({
      ...pass,
      setAside: pass.setAside.map((marks) => marks.map(() => 1)),
    }));
    const causes = [{ kind: "documented" as const, text: "sheet piling" }];
    const { value, figures, summary } = nominalView({ ...campaign, passes, causes });
    expect(value.channels).toEqual([]);
    expect(value.gap.every((gap) => gap !== "")).toBe(true);
    expect(figures).toEqual([]);
    expect(summary).toBe("No reading of campaign 2031-10 that states a conductivity is in use.");
  });

  it("gives one nominal depth to all frequencies of a coil pair, and says that they share", () => {
    const { value } = nominalView(walked({ groundAt: () => half(40), length_m: 40, noise: 1 }));
    const depths = new Set(value.channels.map((one) => `${one.orientation} ${one.nominalDepth_m}`));
    expect(depths.size).toBe(2);
    for (const channel of value.channels) expect(channel.shared).toBeGreaterThan(0.8);
    expect(value.independentLevels).toBeLessThan(4);
    expect(value.independentLevels).toBeGreaterThan(1);
  });

  it("shares nothing where there is one channel, more with a twin than with a far pair", () => {
    const near = channelOf({ field: "near", separation_m: 1 });
    const twin = channelOf({ field: "twin", separation_m: 1, frequency_Hz: 5000 });
    const far = channelOf({ field: "far", separation_m: 8 });
    const sharedOf = (channels: readonly (typeof near)[]) =>
      nominalView(steady(channels)).value.channels.find(({ field }) => field === "near")!;
    expect(sharedOf([near]).shared).toBe(0);
    expect(sharedOf([near]).nearest).toBe("");
    expect(sharedOf([near, twin]).shared).toBeGreaterThan(sharedOf([near, far]).shared + 0.1);
    expect(sharedOf([near, twin, far]).nearest).toBe("twin");
  });

  it("leaves out a channel without a value", () => {
    const [near, blank] = [
      channelOf({ field: "near" }),
      channelOf({ field: "blank", separation_m: 4 }),
    ];
    const values = [chainage_m.map(() => 300), chainage_m.map(() => Number.NaN)];
    const campaign = campaignOf({ passes: [{ channels: [near, blank], values, chainage_m }] });
    expect(nominalView(campaign).value.channels.map(({ field }) => field)).toEqual(["near"]);
  });

  it("never shares less when a channel is added", () => {
    const channels = [1000, 9000, 30_000].map((frequency_Hz) => channelOf({ frequency_Hz }));
    const two = nominalView(steady(channels.slice(0, 2))).value.channels[0]!;
    const three = nominalView(steady(channels)).value.channels[0]!;
    expect(three.shared).toBeGreaterThanOrEqual(two.shared);
  });

  it("takes conductivity channels as they stand, and merges passes of one channel", () => {
    const channel = channelOf({ kind: "conductivity" });
    const passes = [20, 30].map((value) => ({
      channels: [channel],
      values: [chainage_m.map(() => value)],
      chainage_m,
    }));
    const { value } = nominalView(campaignOf({ passes }));
    expect(value.channels).toHaveLength(1);
    expect(value.channels[0]!.apparent_mS_per_m[0]).toBe(25);
  });

  it("leaves set-aside stations blank with their cause, and changes nothing it was given", () => {
    const ground = walked({ groundAt: () => half(40), length_m: 60 });
    const passes = ground.passes.map((pass) => ({
      ...pass,
      setAside: pass.setAside.map((mask) =>
        mask.map((_, i) => (pass.chainage_m[i]! >= 10 && pass.chainage_m[i]! <= 16 ? 1 : 0)),
      ),
    }));
    const causes = [{ kind: "documented" as const, text: "a gate", object: "gate" }];
    const campaign = { ...ground, passes, causes };
    const before = snapshot(campaign);
    const { value, accounting } = nominalView(campaign);
    expect(snapshot(campaign)).toBe(before);
    expect(value.gap[6]).toBe("gate");
    expect(value.channels[0]!.apparent_mS_per_m[6]).toBeNaN();
    expect(value.gap[20]).toBe("");
    expect(accounting!.setAside[0]!.readings).toBe(8);
  });

  it("names every bad option at once, and a campaign that states no conductivity", () => {
    const campaign = steady([channelOf({ kind: "inphase" })]);
    const bad = { spacing_m: 0, floor_ppm: Number.NaN, proportionalNoise: 1, spacing: 3 };
    let faults: string[] = [];
    try {
      nominalView(campaign, bad);
    } catch (error) {
      expect(error).toBeInstanceOf(StepError);
      faults = (error as StepError).faults.map(({ code, path }) => `${code} ${path}`);
    }
    expect(faults).toEqual([
      "option-range options.spacing_m",
      "option-range options.floor_ppm",
      "option-range options.proportionalNoise",
      "option-unknown options.spacing",
      "no-conductivity campaign 2031-10",
    ]);
  });
});
