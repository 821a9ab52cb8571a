import { describe, expect, it } from "vitest";
import { expectClose } from "../support/expect-close.js";
import { forwardOf } from "./earth/forward.js";
import { makeErrors } from "./field/errors.js";
import { INSTRUMENT_KINDS, makeInstrument } from "./field/instruments.js";
import { earthOf } from "./ground/columns.js";
import { GROUND_KINDS } from "./ground/grounds.js";
import { coilResponse } from "./lib.js";
import { makeSurvey, type SurveyPlan } from "./survey.js";
import { campaignsOf } from "./written/in-memory.js";

const PLAN: SurveyPlan = {
  seed: 5,
  ground: "blocks",
  instrument: "three separations HCP, VCP",
  length_m: 120,
};
const survey = (more: Partial<SurveyPlan> = {}) => makeSurvey({ ...PLAN, ...more });
const first = (more: Partial<SurveyPlan> = {}) => survey(more).campaigns[0]!;
const rms = (values: Iterable<number>) => {
  const all = [...values];
  return Math.hypot(...all) / Math.sqrt(all.length);
};

describe("surveys of the menagerie", () => {
  it("come again with their seed and differ with another", () => {
    const told = (seed: number) =>
      survey({ seed, errors: "rough", campaigns: 2, toe: true }).campaigns;
    expect(told(5)).toEqual(told(5));
    expect(told(5)[0]!.walks[0]!.values).not.toEqual(told(6)[0]!.walks[0]!.values);
  });

  it("are the forward model over the true columns where nothing is wrong", () => {
    for (const instrument of INSTRUMENT_KINDS) {
      const { campaigns, truth } = survey({ instrument, errors: "exact" });
      for (const [w, { channels, values, steps, recorded }] of campaigns[0]!.walks.entries()) {
        expect(channels).toEqual(makeInstrument(instrument).walks[w]!.channels);
        const chainage_m = steps.chainage_m[33]!;
        expect(recorded.chainage_m[33]).toBe(chainage_m);
        const earth = earthOf(truth.columnAt({ chainage_m }));
        const expected = forwardOf(channels)(earth, makeInstrument(instrument).height_m);
        expect(values.map((row) => row[33])).toEqual([...expected]);
      }
    }
  });

  it("agree with the library's own response over every ground, by another method", () => {
    for (const ground of GROUND_KINDS) {
      const { truth } = survey({ ground });
      const earth = earthOf(truth.columnAt({ chainage_m: 60 }));
      for (const { walks, height_m } of INSTRUMENT_KINDS.map(makeInstrument)) {
        const channels = walks.flatMap((walk) => walk.channels);
        const values = forwardOf(channels)(earth, height_m);
        for (const [c, channel] of channels.entries()) {
          if (channel.kind === "conductivity") continue;
          const both = coilResponse(earth, { ...channel, height_m });
          const expected = channel.kind === "inphase" ? both.inphase_ppm : both.quadrature_ppm;
          // Of the larger component: in-phase may be a thousandth of it.
          const larger = Math.max(Math.abs(both.inphase_ppm), Math.abs(both.quadrature_ppm));
          expectClose(values[c]!, expected, { absolute: 1e-6 * larger });
        }
      }
    }
  });

  it("put an error of place into the positions and leave the values", () => {
    const noise = first({ errors: "noise" }).walks[0]!.values;
    for (const errors of ["slow GPS", "held GPS", "shifted GPS"] as const) {
      expect(first({ errors }).walks[0]!.values).toEqual(noise);
    }
    const { recorded, steps } = first({ errors: "shifted GPS" }).walks[0]!;
    const shift = [...recorded.chainage_m].map((x, i) => x - steps.chainage_m[i]!);
    const given = shift.filter((one) => !Number.isNaN(one));
    expect(given.length).toBe(Math.ceil(shift.length / 5));
    expectClose(rms(given), 2, { absolute: 0.5 });
    const held = first({ errors: "held GPS" }).walks[0]!.recorded.chainage_m;
    expect(held[3]).toBe(held[0]);
    expect(held[5]).not.toBe(held[0]);
  });

  it("put zero and gain on each channel of each walk", () => {
    const gain = { ...makeErrors("exact"), gain: 0.03 };
    const zero = { ...makeErrors("exact"), zero_ppm: 25 };
    const [clean, more, off] = ["exact" as const, gain, zero].map((errors) => first({ errors }));
    for (const [w, walk] of clean!.walks.entries()) {
      for (const [c, row] of walk.values.entries()) {
        const ratio = more!.walks[w]!.values[c]!.map((value, i) => value / row[i]!);
        expectClose(Math.min(...ratio), Math.max(...ratio), { relative: 1e-9 });
        expect(Math.abs(ratio[0]! - 1)).toBeLessThan(0.12);
        const shift = off!.walks[w]!.values[c]!.map((value, i) => value - row[i]!);
        expectClose(Math.min(...shift), Math.max(...shift), { absolute: 1e-9 });
        expect(Math.abs(shift[0]!)).toBeLessThan(walk.channels[c]!.kind === "inphase" ? 50 : 25);
        expect(shift[0]).not.toBe(0);
      }
    }
  });

  it("lift the second operator's part of the line and leave the rest", () => {
    const quiet = { errors: "noise", instrument: "three separations HCP" } as const;
    const [usual, lifted] = [
      first(quiet),
      first({ ...quiet, errors: "second operator, a quarter" }),
    ];
    const ratio = lifted.walks[0]!.values[0]!.map((v, i) => v / usual.walks[0]!.values[0]![i]!);
    const changed = [...ratio].filter((one) => one !== 1);
    expectClose(changed.length / ratio.length, 0.25, { absolute: 0.02 });
    // Higher coils read less: 0.1 m of 1.3 takes about a tenth of HCP's quadrature.
    expect(changed.every((one) => one < 0.97 && one > 0.8)).toBe(true);
  });

  it("drift between visits as their kind says, seen alike at the fixed spot", () => {
    for (const errors of ["linear drift", "warm-up", "swing", "step"] as const) {
      const { walks, checks } = first({ errors });
      const quiet = first({ errors: "noise" });
      const field = walks[0]!.channels[0]!.field;
      const drift = walks[0]!.values[0]!.map((v, i) => v - quiet.walks[0]!.values[0]![i]!);
      const there = checks.filter(({ values }) => field in values);
      const still = quiet.checks.filter(({ values }) => field in values);
      const seen = there.map((one, i) => one.values[field]! - still[i]!.values[field]!);
      expect(rms(drift)).toBeGreaterThan(3);
      expect(Math.max(...drift.map(Math.abs))).toBeLessThan(60);
      if (errors === "linear drift") {
        const rate =
          (drift.at(-1)! - drift[0]!) /
          (walks[0]!.steps.time_s.at(-1)! - walks[0]!.steps.time_s[0]!);
        const span_s = there.at(-1)!.time_s - there[0]!.time_s;
        // The checks' noise hangs on their value: 1 % of the drift.
        expectClose(seen.at(-1)! - seen[0]!, rate * span_s, { relative: 0.05 });
      }
    }
    expect(first({ errors: "no checks" }).checks).toEqual([]);
  });

  it("visit the spot three times in 25 minutes, once each, where checks are sparse", () => {
    for (const instrument of INSTRUMENT_KINDS) {
      const { checks, walks } = first({ instrument, errors: "sparse checks", length_m: 400 });
      expect(checks.length).toBe(3 * walks.length);
      expect(checks.at(-1)!.time_s - checks[0]!.time_s).toBeLessThan(25 * 60);
    }
  });

  it("leave part of one channel blank, and write warmer soil down", () => {
    const blank = first({ errors: "missing channel" }).walks[0]!.values.map(
      (row) => row.filter(Number.isNaN).length / row.length,
    );
    expect(blank.filter((share) => share > 0).length).toBe(1);
    expectClose(Math.max(...blank), 0.2, { absolute: 0.01 });
    const [warm, right] = [first({ errors: "wrong temperature" }), first()];
    for (const [i, one] of warm.soilTemperature.entries()) {
      expectClose(one.temperature_degC - right.soilTemperature[i]!.temperature_degC, 3, {
        absolute: 1e-9,
      });
    }
  });

  it("are campaigns of the library with every position bridged", () => {
    const [campaign] = campaignsOf(survey({ errors: "slow GPS", toe: true }));
    const made = first({ errors: "slow GPS", toe: true });
    for (const [w, pass] of campaign!.passes.entries()) {
      const { steps } = made.walks[w]!;
      const off = pass.chainage_m.map((x, i) => x - steps.chainage_m[i]!);
      // Jitter of 0.3 m, and a pace that scatters by 8 %.
      expect(Math.max(...off.map(Math.abs))).toBeLessThan(2);
      expectClose(rms(off), 0.3, { absolute: 0.15 });
      expect(new Set(pass.line)).toEqual(new Set(["crest", "toe"]));
    }
  });
});
