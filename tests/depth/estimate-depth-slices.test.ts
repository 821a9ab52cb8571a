import { describe, expect, it } from "vitest";
import { estimateDepthSlices } from "../../lib/depth/estimate-depth-slices.js";
import { type DepthOptions, depthDefaults } from "../../lib/depth/options.js";
import { faultText, StepError } from "../../lib/step/step-error.js";
import { campaignOf, channelOf, snapshot } from "../support/campaign.js";
import { expectClose } from "../support/expect-close.js";
import { once } from "../support/once.js";
import { type Ground, walked } from "../support/walked.js";

/** Of few channels: what is looked at here does not hang on how many there are. */
const two = { frequencies_Hz: [4000, 25_000] };
const half = (ohm_m: number): Ground => ({ conductivity_S_per_m: [1 / ohm_m], thickness_m: [] });

/**
 * 60 m of which 10 to 16 m are set aside, between 40 and 50 m are without a position, and the first
 * three stations lack a channel of each walk.
 */
function holedCampaign() {
  const ground = walked({ groundAt: () => half(30), length_m: 60, noise: 1, ...two });
  const passes = ground.passes.map((pass) => ({
    ...pass,
    chainage_m: pass.chainage_m.map((x) => (x > 40 && x < 50 ? Number.NaN : x)),
    setAside: pass.setAside.map((mask, c) =>
      mask.map((_, i) => {
        const x = pass.chainage_m[i]!;
        return (x >= 10 && x <= 16) || (c === 0 && i < 3) ? 1 : 0;
      }),
    ),
  }));
  const causes = [{ kind: "detected" as const, text: "metal" }];
  return { ...ground, passes, causes, crest: { chainage_m: [0, 60], elevation_m: [6, 5] } };
}

const holed = holedCampaign();
const estimated = once(() => estimateDepthSlices(holed));

describe("estimateDepthSlices", () => {
  it("works with apparent conductivities, one channel, and says how they were read", async () => {
    const channel = channelOf({ kind: "conductivity", frequency_Hz: 9000, separation_m: 3.66 });
    const chainage_m = Array.from({ length: 30 }, (_, i) => 2 * i);
    const campaign = campaignOf({
      passes: [{ channels: [channel], values: [chainage_m.map(() => 22)], chainage_m }],
    });
    const result = await estimateDepthSlices(campaign);
    expect(result.value.independentLevels).toBeLessThan(1.01);
    expect(result.value.slices).toHaveLength(1);
    expect(result.cautions.some(({ text }) => text.includes("low-induction"))).toBe(true);
  });

  it("takes a channel that was never read for one that the instrument does not have", async () => {
    const campaign = walked({ groundAt: () => half(30), length_m: 30, noise: 1, ...two });
    const withSilent = campaign.passes.map((pass) => {
      const { length } = pass.chainage_m;
      const silent = channelOf({ field: "silent", frequency_Hz: 9000 });
      const channels = [...pass.instrument.channels, silent];
      const values = [...pass.values, new Float64Array(length).fill(Number.NaN)];
      const setAside = [...pass.setAside, new Uint8Array(length).fill(1)];
      return { ...pass, instrument: { ...pass.instrument, channels }, values, setAside };
    });
    const causes = [{ kind: "no value" as const, text: "no value in the file" }];
    const { value } = await estimateDepthSlices({ ...campaign, passes: withSilent, causes });
    const { value: without } = await estimateDepthSlices(campaign);
    expect(value.reliableTo_m).toBeGreaterThan(0);
    expect([...value.log10Resistivity]).toEqual([...without.log10Resistivity]);
    expect([...value.sd]).toEqual([...without.sd]);
  });

  it("leaves stretches set aside or without readings blank, and says which is which", async () => {
    const { value } = await estimated();
    const gapAt = (x: number) => value.gap[[...value.chainage_m].indexOf(x)];
    expect(gapAt(12)).toBe("set aside");
    expect(gapAt(44)).toBe("no readings");
    expect(gapAt(30)).toBe("");
    for (const column of value.log10Resistivity) {
      expect(column[6]).toBeNaN();
      expect(column[22]).toBeNaN();
      expect(column[15]).not.toBeNaN();
    }
  });

  it("hands on channels, coils and crest", async () => {
    const { value, figures } = await estimated();
    const { channels, misfit, crestElevation_m, height_m } = value;
    expect(channels!.map(({ coils }) => coils)).toEqual(
      holed.passes.flatMap(({ instrument }) => instrument.channels),
    );
    expect(value.gap.filter((gap) => gap === "").length).toBeGreaterThan(20);
    for (const i of misfit.keys()) {
      expectClose(crestElevation_m![i]!, 6 - value.chainage_m[i]! / 60, { absolute: 1e-12 });
      if (value.gap[i] !== "") continue;
      const own = channels!.map(({ residual }) => residual[i]!).filter((one) => !Number.isNaN(one));
      expect(own).toHaveLength(i < 3 ? 6 : 8);
      // The misfit holds what the draws leave open besides.
      const mean = own.reduce((sum, one) => sum + one * one, 0) / own.length;
      expect(misfit[i]!).toBeGreaterThanOrEqual(Math.sqrt(mean));
      expectClose(height_m![i]!, 0.9, { absolute: 1e-12 });
    }
    expect(figures.map(({ id }) => id)).toEqual([
      "depth-section-2031-10",
      "depth-slices-2031-10",
      "depth-residuals-2031-10",
    ]);
  });

  it("does not change what it was given, and gives the same twice", async () => {
    const campaign = walked({ groundAt: () => half(30), length_m: 10, noise: 1, ...two });
    const before = snapshot(campaign);
    const once = await estimateDepthSlices(campaign, { progress: () => undefined });
    // Another object of the same content: what is kept of the first does not speak for it.
    const again = await estimateDepthSlices({ ...campaign });
    expect(snapshot(campaign)).toBe(before);
    expect(JSON.stringify(again.value)).toBe(JSON.stringify(once.value));
    // The options as given, not what came of them.
    expect(once.value.slices.length).toBeGreaterThan(0);
    expect(once.used).toEqual(
      Object.fromEntries(Object.entries(depthDefaults).filter(([name]) => name !== "progress")),
    );
  });

  it("names every bad option at once", async () => {
    const campaign = walked({ groundAt: () => half(30), length_m: 10 });
    const bad = {
      spacing_m: 0,
      sliceSd: Number.NaN,
      layerTops_m: [0, 2, 1],
      slices: [{ top_m: 2, base_m: 1 }],
      floor: 3,
    };
    const error = await estimateDepthSlices(campaign, bad).catch((thrown: unknown) => thrown);
    expect(error).toBeInstanceOf(StepError);
    const { faults, message } = error as StepError;
    expect(faults.map((fault) => [fault.code, fault.path])).toEqual([
      ["option-range", "options.spacing_m"],
      ["option-range", "options.sliceSd"],
      ["option-value", "options.layerTops_m"],
      ["option-range", "options.slices[0]"],
      ["option-unknown", "options.floor"],
    ]);
    expect(message).toContain(
      "estimateDepthSlices: options.spacing_m must be a number above 0 m, got 0",
    );
    expect(message).toContain(
      "options.slices[0] must be depths with 0 <= top_m < base_m, got 2 to 1",
    );
    expect(message).toContain("did you mean floor_ppm?");
  });

  it("names every tie that no station could hold", async () => {
    const campaign = walked({ groundAt: () => half(30), length_m: 10 });
    const tie = { chainage_m: 400, top_m: 1, base_m: 2, resistivity_ohm_m: 30, log10Sd: 0.1 };
    const bad = { ...tie, top_m: 2, base_m: 1, resistivity_ohm_m: -3 };
    const refused = (options: Partial<DepthOptions>) =>
      estimateDepthSlices(campaign, options).then(
        () => [],
        (error: StepError) => error.faults.map((fault) => faultText("", fault)),
      );
    expect(await refused({ ties: [tie, bad], draws: 1.5 })).toEqual([
      ": options.ties[1] must be depths with 0 <= top_m < base_m, got 2 to 1",
      ": options.ties[1].resistivity_ohm_m must be a number above 0, got -3",
      ": options.draws must be a whole number at least 0, got 1.5",
    ]);
    expect(await refused({ ties: [tie] })).toEqual([
      ": options.ties[0].chainage_m must be a chainage within the walk, 0 to 10 m, got 400",
    ]);
  });

  it("hands on draws of whole lines, whose moments are the estimate's", async () => {
    const campaign = walked({ groundAt: () => half(30), length_m: 10, noise: 1, ...two });
    const slices = [{ top_m: 0, base_m: 1, reliable: true }];
    const { value, used } = await estimateDepthSlices(campaign, { draws: 200, slices });
    expect(used.slices).toEqual([{ top_m: 0, base_m: 1 }]);
    expect(value.draws).toHaveLength(200);
    for (const [k, column] of value.log10Resistivity.entries()) {
      for (const [i, mean] of column.entries()) {
        const sum = value.draws!.reduce((total, draw) => total + draw[k]![i]!, 0);
        expectClose(sum / 200, mean, { absolute: 1e-6 });
      }
    }
  });

  it("gives no slice where no station has enough of its channels, and says what helps", async () => {
    // A logger that reads one channel a row, four rows to a cycle of 8 m.
    const channels = [4000, 9000, 16_000, 25_000].map((frequency_Hz) =>
      channelOf({ frequency_Hz }),
    );
    const chainage_m = Array.from({ length: 32 }, (_, i) => 2 * i);
    const values = channels.map((_, c) =>
      chainage_m.map((_, i) => (i % 4 === c ? 100 * (c + 1) : Number.NaN)),
    );
    const campaign = campaignOf({ passes: [{ channels, values, chainage_m }] });
    const { value, cautions } = await estimateDepthSlices(campaign);
    expect(value.slices).toEqual([]);
    expect(value.reliableTo_m).toBe(0);
    expect(cautions.map(({ text }) => text).join(" ")).toMatch(
      /No station has an estimate.*longer `spacing_m` or a lower `channelShare`/,
    );
    const wide = await estimateDepthSlices(campaign, { spacing_m: 8 });
    expect(wide.value.slices.length).toBeGreaterThan(0);
  });

  it("refuses a campaign without a position", async () => {
    const campaign = campaignOf({
      passes: [{ channels: [channelOf()], values: [[1]], chainage_m: [Number.NaN] }],
    });
    await expect(estimateDepthSlices(campaign)).rejects.toThrow(
      "at least one reading that has a position",
    );
  });
});
