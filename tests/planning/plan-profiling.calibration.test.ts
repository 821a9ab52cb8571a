import { describe, expect, it } from "vitest";
import type { PlanTarget, ProfilingQuestion } from "../../lib/planning/plan.js";
import { planProfiling } from "../../lib/planning/plan-profiling.js";
import { StepError } from "../../lib/step/step-error.js";
import { channelOf } from "../support/campaign.js";
import { expectClose } from "../support/expect-close.js";

const instrument = {
  height_m: 0.9,
  channels: [4000, 25_000].flatMap((frequency_Hz) =>
    (["HCP", "VCP"] as const).map((orientation) => channelOf({ frequency_Hz, orientation })),
  ),
};
const earth = { conductivity_S_per_m: [0.03, 0.05], thickness_m: [1.2] };
const lens = { kind: "lens", length_m: 12, top_m: 1, base_m: 2.5, conductivityRatio: 0.4 } as const;

const probabilityOf = (target: PlanTarget, options: Partial<ProfilingQuestion> = {}) =>
  planProfiling(instrument, earth, { target, ...options }).value.probability;

/** Rising, every step by more than nothing. */
function expectRising(values: readonly number[]): void {
  for (const [i, value] of values.entries()) {
    if (i > 0) expect(value).toBeGreaterThan(values[i - 1]! + 1e-4);
  }
}

describe("planProfiling", () => {
  it("sees a longer, thicker, shallower or stronger lens better", () => {
    expectRising([4, 8, 12, 20, 30].map((length_m) => probabilityOf({ ...lens, length_m })));
    expectRising([1.5, 2, 2.5, 4].map((base_m) => probabilityOf({ ...lens, base_m })));
    expectRising(
      [3, 2, 1, 0.4].map((top_m) => probabilityOf({ ...lens, top_m, base_m: top_m + 1 })),
    );
    const ratios = [0.8, 0.6, 0.4, 0.2];
    expectRising(ratios.map((conductivityRatio) => probabilityOf({ ...lens, conductivityRatio })));
    const richer = [1.2, 1.6, 2.2, 3];
    expectRising(richer.map((conductivityRatio) => probabilityOf({ ...lens, conductivityRatio })));
  });

  it("sees better with less noise, closer readings, more walks, even ground, lower coils", () => {
    const by = (options: readonly Partial<ProfilingQuestion>[]) =>
      expectRising(options.map((one) => probabilityOf(lens, one)));
    by([40, 20, 10, 5].map((quadratureFloor_ppm) => ({ quadratureFloor_ppm })));
    by([0.08, 0.04, 0.02, 0].map((proportionalNoise) => ({ proportionalNoise })));
    by([4, 2, 1, 0.5].map((spacing_m) => ({ spacing_m })));
    by([1, 2, 4].map((walks) => ({ walks })));
    by([0.4, 0.2, 0.1].map((groundSd) => ({ groundSd })));
    by([1.5, 0.9, 0.3].map((height_m) => ({ height_m })));
    by([0.001, 0.01, 0.1].map((falseAlarm) => ({ falseAlarm })));
  });

  it("sees no boundary between like grounds more often than it raises false alarms", () => {
    const probability = probabilityOf({ kind: "boundary", beyond: earth }, { falseAlarm: 0.03 });
    expectClose(probability, 0.03, { absolute: 1e-9 });
    const other = { conductivity_S_per_m: [0.015, 0.05], thickness_m: [1.2] };
    expect(probabilityOf({ kind: "boundary", beyond: other })).toBeGreaterThan(0.5);
  });

  it("says which frequency adds nothing, and what each channel sees alone", () => {
    const deaf = channelOf({ field: "deaf", frequency_Hz: 100 });
    const four = { ...instrument, channels: [...instrument.channels, deaf] };
    const { value, summary } = planProfiling(four, earth, { target: lens });
    const last = value.channels.at(-1)!;
    // A tenth of a ppm of mark under ten of noise.
    expect(last).toMatchObject({ field: "deaf", addsNothing: true });
    expect(last.lost).toBeLessThan(1e-3);
    expect(last.alone).toBeLessThan(0.05);
    expect(value.frequencies[0]).toMatchObject({ frequency_Hz: 100, addsNothing: true });
    expect(value.leaveOut_Hz).toContain(100);
    expect(summary).toContain("100 Hz");
    const best = value.frequencies.at(-1)!;
    expect(best.alone).toBeGreaterThan(value.frequencies[0]!.alone);
    expect(value.probability).toBeGreaterThanOrEqual(best.alone);
    expect(value.independentLevels).toBeLessThan(4);
  });

  it("leaves out together only what the loss allowed covers", () => {
    const twin = channelOf({ field: "twin", frequency_Hz: 26_000 });
    const channels = [...instrument.channels, twin];
    const { value } = planProfiling({ ...instrument, channels }, earth, { target: lens });
    const kept = channels.filter(({ frequency_Hz }) => !value.leaveOut_Hz.includes(frequency_Hz));
    expect(kept.length).toBeGreaterThan(0);
    const rest = planProfiling({ ...instrument, channels: kept }, earth, { target: lens }).value;
    const share = 1 - (rest.detectability / value.detectability) ** 2;
    expect(share).toBeLessThan(0.02);
  });

  it("counts stations, readings, values, hours and seconds", () => {
    const question = { target: lens, spacing_m: 0.5, walks: 2, speed_m_per_s: 1.25 };
    const { effort } = planProfiling(instrument, earth, question).value;
    expect(effort.stations_per_km).toBe(2000);
    expect(effort.readings_per_km).toBe(4000);
    expect(effort.values_per_km).toBe(16_000);
    // Twice 800 s of walking, and half as much again.
    expectClose(effort.hours_per_km, 2400 / 3600, { relative: 1e-12 });
    expectClose(effort.secondsPerReading, 0.4, { relative: 1e-12 });
  });

  it("takes measured noise by channel before its own", () => {
    const noise = instrument.channels.map(({ field }) => ({
      channel: field,
      floor: 40,
      share_pct: 2,
    }));
    expectClose(probabilityOf(lens, { noise }), probabilityOf(lens, { quadratureFloor_ppm: 40 }), {
      relative: 1e-9,
    });
  });

  it("takes an apparent conductivity for the quadrature behind it", () => {
    const channels = instrument.channels.map((channel) => ({
      ...channel,
      kind: "conductivity" as const,
      unit: "mS/m" as const,
    }));
    const { value } = planProfiling({ ...instrument, channels }, earth, { target: lens });
    expectClose(value.probability, probabilityOf(lens), { relative: 1e-12 });
  });

  it("has figures titled by what was found, tables, and cautions where it sees little", () => {
    const small = planProfiling(instrument, earth, {
      target: { ...lens, length_m: 1.5, top_m: 2 },
    });
    expect(small.figures.map(({ id }) => id)).toEqual(["plan-size", "plan-height", "plan-parts"]);
    const texts = small.cautions.map(({ text }) => text).join(" ");
    expect(texts).toContain("shorter than two spacings");
    expect(texts).toContain("do not promise it");
    expect(small.tables).toHaveLength(2);
  });

  it("compares channels where there is one frequency, and draws no bars for one channel", () => {
    const pairs = (["HCP", "PRP"] as const).map((orientation) =>
      channelOf({ field: orientation, orientation, frequency_Hz: 9000 }),
    );
    const two = planProfiling({ height_m: 0.3, channels: pairs }, earth, { target: lens });
    expect(JSON.stringify(two.figures.at(-1)!.spec)).toContain("quadrature, PRP, 1.8 m");
    const one = planProfiling({ height_m: 0, channels: pairs.slice(0, 1) }, earth, {
      target: lens,
    });
    expect(one.figures.map(({ id }) => id)).toEqual(["plan-size", "plan-height"]);
    expect(one.value.channels[0]!.lost).toBe(1);
    expect(one.value.leaveOut_Hz).toEqual([]);
  });

  it("takes the stated noise where repeats that are alike measured none", () => {
    const { field } = instrument.channels[0]!;
    const none = [{ channel: field, floor: 0, share_pct: 0 }];
    const [plain, measured] = [[], none].map((noise) =>
      planProfiling(instrument, earth, { target: lens, noise }),
    );
    expect(measured!.value.channels).toEqual(plain!.value.channels);
  });

  it("names every fault at once, and leaves frozen input alone", () => {
    const bad = {
      target: { kind: "lens", length_m: 0, top_m: 2, base_m: 1, conductivityRatio: 1 },
      spacing_m: Number.NaN,
      walks: 1.5,
      falseAlarm: 0.5,
      noise: [{ channel: "q", floor: -2, share_pct: -1 }],
      spacing: 2,
    } as const;
    let faults: string[] = [];
    try {
      planProfiling({ height_m: -1, channels: instrument.channels.slice(0, 1) }, earth, bad);
    } catch (error) {
      expect(error).toBeInstanceOf(StepError);
      faults = (error as StepError).faults.map(({ code, path }) => `${code} ${path}`);
    }
    expect(faults).toEqual([
      "option-range options.spacing_m",
      "option-range options.walks",
      "option-range options.falseAlarm",
      "option-range options.noise[0].floor",
      "option-range options.noise[0].share_pct",
      "option-unknown options.spacing",
      "negative instrument.channels[0].height_m",
      "not-positive question.target.length_m",
      "option-range question.target.base_m",
      "option-range question.target.conductivityRatio",
    ]);
    const frozen = Object.freeze({ target: Object.freeze({ ...lens }) });
    expect(
      planProfiling(Object.freeze({ ...instrument }), Object.freeze({ ...earth }), frozen),
    ).toBeDefined();
  });

  it("refuses an insulator, a target of no kind, and an instrument without channels", () => {
    const air = { conductivity_S_per_m: [0, 0.05], thickness_m: [1] };
    const call = (of: typeof instrument, ground: typeof air, target: unknown) => () =>
      planProfiling(of, ground, { target: target as PlanTarget });
    expect(call(instrument, air, lens)).toThrow("earth.conductivity_S_per_m[0] must be above 0");
    expect(call(instrument, earth, { kind: "hole" })).toThrow('of kind "lens" or "boundary"');
    expect(call(instrument, earth, { kind: "boundary", beyond: air })).toThrow(
      "question.target.beyond.conductivity_S_per_m[0]",
    );
    expect(call({ height_m: 1, channels: [] }, earth, lens)).toThrow("one channel at least");
  });
});
