import { describe, expect, it } from "vitest";
import { depthReport } from "../../lib/depth/account.js";
import { estimateDepthSlices } from "../../lib/depth/estimate-depth-slices.js";
import type { DepthTie } from "../../lib/depth/options.js";
import { median } from "../../lib/numerics/statistics/robust.js";
import { campaignOf, channelOf, snapshot } from "../support/campaign.js";
import { drawnLine, SLICES } from "../support/drawn-line.js";
import { expectClose } from "../support/expect-close.js";
import { type Ground, walked } from "../support/walked.js";

const half = (ohm_m: number): Ground => ({ conductivity_S_per_m: [1 / ohm_m], thickness_m: [] });
/** 2 m of 600 ohm-m over clay of 10. */
const DRY: Ground = { conductivity_S_per_m: [1 / 600, 1 / 10], thickness_m: [2] };
const SURVEYS = Number(process.env.DEPTH_SURVEYS ?? 8);
const STATIONS = 50;
/** Bins that the truths' ranks among the draws fall into. */
const RANKS = 8;

describe("estimateDepthSlices on ground drawn from its prior", () => {
  // 80 % intervals of 400 stations a slice: a binomial error of 2 %, three of them; beyond either end
  // a tenth within four of 1.5 %.
  it("holds four truths of five, few beyond either end, and ranks them evenly", async () => {
    const counts = SLICES.map(() => ({ below: 0, held: 0, above: 0 }));
    const ranks = SLICES.map(() => new Array<number>(RANKS).fill(0));
    for (let survey = 0; survey < SURVEYS; survey++) {
      const { campaign, truth } = drawnLine({ seed: 5000 + survey, stations: STATIONS });
      const { value } = await estimateDepthSlices(campaign, { slices: SLICES, draws: 64 });
      for (const [k, counted] of counts.entries()) {
        for (let i = 0; i < STATIONS; i++) {
          const told = truth[k]![i]!;
          if (told < value.p10![k]![i]!) counted.below += 1;
          else if (told > value.p90![k]![i]!) counted.above += 1;
          else counted.held += 1;
          const under = value.draws!.filter((draw) => draw[k]![i]! < told).length / 65;
          ranks[k]![Math.floor(RANKS * under)]! += 1;
        }
      }
    }
    const all = SURVEYS * STATIONS;
    for (const [k, { below, held, above }] of counts.entries()) {
      const told = `slice ${k}: ${below} below, ${above} above of ${all}`;
      expect(Math.abs(held / all - 0.8), told).toBeLessThan(3 * Math.sqrt((0.8 * 0.2) / all));
      expect(Math.abs(below / all - 0.1), told).toBeLessThan(4 * Math.sqrt(0.09 / all));
      expect(Math.abs(above / all - 0.1), told).toBeLessThan(4 * Math.sqrt(0.09 / all));
      // Chi-square of 7 degrees of freedom, 0.1 %. Source: Talts & others 2018.
      const even = all / RANKS;
      const square = ranks[k]!.reduce((sum, count) => sum + (count - even) ** 2 / even, 0);
      expect(square, `slice ${k}: ${ranks[k]!.join(" ")}`).toBeLessThan(24.3);
    }
  });
});

describe("estimateDepthSlices", () => {
  it("holds even ground within its intervals, and finds noise below what is stated", async () => {
    const campaign = walked({ groundAt: () => half(40), length_m: 80, noise: 1, seed: 4 });
    const before = snapshot(campaign);
    const { value } = await estimateDepthSlices(campaign);
    expect(snapshot(campaign)).toBe(before);
    expect(value.slices.some((slice) => slice.reliable)).toBe(true);
    for (const [k] of value.slices.entries()) {
      const [low, high] = [median(value.p10![k]!), median(value.p90![k]!)];
      expect(low).toBeLessThan(Math.log10(40));
      expect(high).toBeGreaterThan(Math.log10(40));
    }
    // 1 % where 2 % is stated; what gains may hold (1 %) is not counted.
    const quadrature = value.channels!.filter(({ coils }) => coils?.kind === "quadrature");
    expect(median(quadrature.map(({ noiseScale }) => noiseScale))).toBeLessThan(0.8);
  });

  it("says of a dry crest over clay that the data bound it from below", async () => {
    const campaign = walked({
      groundAt: () => DRY,
      length_m: 60,
      noise: 1,
      orientations: ["HCP"],
    });
    const slices = [
      { top_m: 0, base_m: 0.5 },
      { top_m: 3.3, base_m: 5.5 },
    ];
    const { value } = await estimateDepthSlices(campaign, { slices });
    expect(value.slices.map((slice) => [slice.bounded, slice.reliable])).toEqual([
      ["below", false],
      ["both", true],
    ]);
    // The clay below, within a tenth of a decade; the crest is not told to be clay.
    expectClose(median(value.log10Resistivity[1]!), 1, { absolute: 0.1 });
    expect(median(value.p10![0]!)).toBeLessThan(Math.log10(600));
    expect(median(value.p90![0]!)).toBeGreaterThan(Math.log10(600));
  });

  it("gives the same bytes again, and another draw for another seed", async () => {
    const campaign = walked({
      groundAt: () => half(25),
      length_m: 12,
      noise: 1,
      orientations: ["HCP"],
    });
    const one = await estimateDepthSlices(campaign);
    const same = await estimateDepthSlices(campaign);
    const other = await estimateDepthSlices(campaign, { seed: 2 });
    expect(same.value.log10Resistivity).toEqual(one.value.log10Resistivity);
    expect(other.value.layers.log10Resistivity).not.toEqual(one.value.layers.log10Resistivity);
  });

  it("draws the ground of a tie towards it, and leaves that far away alone", async () => {
    const campaign = walked({ groundAt: () => DRY, length_m: 60, noise: 1, orientations: ["HCP"] });
    const slices = [{ top_m: 0, base_m: 2 }];
    const tie: DepthTie = { chainage_m: 6, ...slices[0]!, resistivity_ohm_m: 600, log10Sd: 0.05 };
    const without = (await estimateDepthSlices(campaign, { slices })).value;
    const tied = (await estimateDepthSlices(campaign, { slices, ties: [tie], gainSd: 0.01 })).value;
    const truth = Math.log10(600);
    expect(Math.abs(tied.log10Resistivity[0]![3]! - truth)).toBeLessThan(0.1);
    expect(tied.sd[0]![3]!).toBeLessThan(0.5 * without.sd[0]![3]!);
    expectClose(tied.log10Resistivity[0]![28]!, without.log10Resistivity[0]![28]!, {
      absolute: without.sd[0]![28]!,
    });
  });

  it("hands on two coils in mS/m as two slices, gaps as gaps", async () => {
    const channels = [2, 4].map((separation_m) =>
      channelOf({
        kind: "conductivity",
        unit: "mS/m",
        separation_m,
        frequency_Hz: 9000,
        field: `c_${separation_m}`,
      }),
    );
    const chainage_m = Array.from({ length: 30 }, (_, i) => 2 * i);
    const values = [22, 20].map((level) =>
      chainage_m.map((x) => (x === 20 ? Number.NaN : level + 0.2 * Math.sin(7 * x))),
    );
    const campaign = campaignOf({ passes: [{ channels, values, chainage_m, height_m: 0.3 }] });
    const { value } = await estimateDepthSlices(campaign);
    expect(value.slices).toHaveLength(2);
    expect(value.gap[10]).toBe("set aside");
    expect(value.p10![0]![10]).toBeNaN();
    expect(value.log10Resistivity[0]![10]).toBeNaN();
    expect(value.p10![0]![9]).toBeLessThan(value.p90![0]![9]!);
  });
});

/** Log-mean resistivity of known ground over a slice. */
function trueMean(ground: Ground, slice: { top_m: number; base_m: number }): number {
  let sum = 0;
  let top = 0;
  for (const [j, sigma] of ground.conductivity_S_per_m.entries()) {
    const base = top + (ground.thickness_m[j] ?? Number.POSITIVE_INFINITY);
    const shared = Math.min(base, slice.base_m) - Math.max(top, slice.top_m);
    sum += Math.max(0, shared) * -Math.log10(sigma);
    top = base;
  }
  return sum / (slice.base_m - slice.top_m);
}

describe("estimateDepthSlices of whole lines", () => {
  it("finds a homogeneous ground without noise, all of it alike and reliable", async () => {
    const { value } = await estimateDepthSlices(walked({ groundAt: () => half(35), length_m: 40 }));
    for (const [k, column] of value.log10Resistivity.entries()) {
      expect(value.slices[k]!.reliable).toBe(true);
      // Gains of 1 % and zeros of 5 ppm are allowed for: the deviation that is stated.
      for (const [i, v] of column.entries()) {
        expectClose(v, Math.log10(35), { absolute: 2 * value.sd[k]![i]! });
        expectClose(10 ** v, 35, { relative: 0.1 });
      }
    }
    expect(value.rms).toBeLessThan(1.2);
  });

  it("holds three layers' slice means within its intervals, few of them far off", async () => {
    const grounds = [0, 1, 2].map((k) => ({
      conductivity_S_per_m: [1 / 60, 1 / (15 + 10 * k), 1 / 40],
      thickness_m: [0.6 + 0.3 * k, 1.6],
    }));
    const groundAt = (x: number) => grounds[Math.floor(x / 200)] ?? grounds[2]!;
    const { value } = await estimateDepthSlices(
      walked({ groundAt, length_m: 598, noise: 1, seed: 5 }),
    );
    expect(value.slices.length).toBeGreaterThanOrEqual(2);
    let inside = 0;
    let all = 0;
    for (const [k, slice] of value.slices.entries()) {
      if (!slice.reliable) continue;
      const errors: number[] = [];
      for (const [i, x] of value.chainage_m.entries()) {
        const truth = trueMean(groundAt(x), slice);
        if (truth >= value.p10![k]![i]! && truth <= value.p90![k]![i]!) inside += 1;
        all += 1;
        errors.push(Math.abs(10 ** (value.log10Resistivity[k]![i]! - truth) - 1));
      }
      // A reliable slice is known to 0.12 decades, one deviation, which is a third.
      expect(median(errors)).toBeLessThan(0.35);
    }
    // Three earths are no draw from the prior: how often intervals hold is judged in the calibration.
    expect(inside / all).toBeGreaterThan(0.4);
  });

  it("says so where readings of several lines were not parted before", async () => {
    const groundAt = () => ({ conductivity_S_per_m: [0.03], thickness_m: [] });
    const crest = walked({ groundAt, length_m: 120, noise: 1, seed: 8 });
    const [one, other] = crest.passes.map((pass, p) => ({
      ...pass,
      line: pass.line.map(() => (p === 0 ? "crest" : "toe")),
      offset_m: pass.offset_m.map(() => -14 * p),
    }));
    const both = await estimateDepthSlices({ ...crest, passes: [one!, other!] }, { spacing_m: 20 });
    expect(both.cautions[0]!.text).toMatch(/lie apart across the bank \(crest and toe\)/);
    const alone = await estimateDepthSlices(crest, { spacing_m: 20 });
    expect(alone.cautions.map(({ text }) => text).join()).not.toContain("lie apart");
  });

  it("says so where few earths of the ensemble stand for many stations", async () => {
    const groundAt = () => ({ conductivity_S_per_m: [0.03], thickness_m: [] });
    const campaign = walked({ groundAt, length_m: 40, noise: 1, seed: 8 });
    const { value, cautions } = await estimateDepthSlices(campaign, { spacing_m: 10 });
    const told = (texts: readonly string[]) => texts.filter((text) => text.includes("ensemble"));
    expect(Math.min(...value.members!)).toBeGreaterThan(5);
    expect(told(cautions.map(({ text }) => text))).toEqual([]);
    const few = { ...value, members: value.members!.map((count, i) => (i < 2 ? 3 : count)) };
    expect(told(depthReport(few, null, campaign).cautions ?? [])[0]).toMatch(/^At 2 of 5 stations/);
  });

  it("says of a repeat how far it may differ: two walks over one ground", async () => {
    const groundAt = () => ({ conductivity_S_per_m: [1 / 50, 1 / 20], thickness_m: [1.5] });
    const slices = [
      { top_m: 0, base_m: 1 },
      { top_m: 1, base_m: 3 },
    ];
    const [one, two] = await Promise.all(
      [21, 22].map((seed) =>
        estimateDepthSlices(walked({ groundAt, length_m: 800, noise: 1, seed }), {
          slices,
        }),
      ),
    );
    for (const k of [0, 1]) {
      const z = one!.value.log10Resistivity[k]!.map(
        (v, i) =>
          (v - two!.value.log10Resistivity[k]![i]!) /
          Math.hypot(one!.value.repeatSd![k]![i]!, two!.value.repeatSd![k]![i]!),
      );
      const spread = Math.sqrt(z.reduce((sum, v) => sum + v * v, 0) / z.length);
      // 401 stations: standard error 3.5 %. The share of the noise in the deviation is that of ground
      // of ordinary variation, and leans to the large side.
      expect(spread).toBeGreaterThan(0.6);
      expect(spread).toBeLessThan(1.12);
      expect(median(one!.value.repeatSd![k]!)).toBeLessThan(median(one!.value.sd[k]!));
    }
  });

  it("does not care in which direction the line runs", async () => {
    const groundAt = (x: number) => half(x < 21 ? 20 : 60);
    const forward = await estimateDepthSlices(walked({ groundAt, length_m: 40 }));
    const back = await estimateDepthSlices(
      walked({ groundAt: (x) => groundAt(40 - x), length_m: 40 }),
      { slices: forward.value.slices },
    );
    for (const [k, column] of forward.value.log10Resistivity.entries()) {
      const reversed = [...back.value.log10Resistivity[k]!].reverse();
      // Noise and kinds are found from stations at other places of an even sample.
      for (const [i, v] of column.entries()) expectClose(v, reversed[i]!, { absolute: 2e-3 });
    }
  });
});
