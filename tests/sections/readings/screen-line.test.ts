import { describe, expect, it } from "vitest";
import { geometricFactor } from "../../../lib/earth/spread.js";
import { spreadResponse } from "../../../lib/earth/spread-response.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { screenLine } from "../../../lib/sections/readings/screen-line.js";
import { positionsOf } from "../../../lib/sections/section-input.js";
import type { ResistivityLine } from "../../../lib/survey/resistivity-line.js";
import {
  dipoleSpreads,
  electrodesAt,
  measuredAs,
  wennerSpreads,
} from "../../support/electrode-lines.js";

const COUNT = 30;
const electrodes = electrodesAt(COUNT);
const spreads = [...wennerSpreads(COUNT, [1, 2, 3, 5]), ...dipoleSpreads(COUNT, [1, 2, 3, 4])];
const earth = { resistivity_ohm_m: [60, 20, 120], thickness_m: [1, 3] };
const apparent_ohm_m = spreads.map((spread) =>
  spreadResponse(earth, positionsOf(spread, electrodes)),
);
const limits = { mostDeviation_pct: 5, leastVoltage_mV: 0.1, mostFactor_m: 1e6, share: 0.01 };

const given = { electrodes, spreads, apparent_ohm_m, noise: 0.02, seed: 1 };
const sound = (seed = 1) => measuredAs({ ...given, seed });

type Reading = ResistivityLine["readings"][number];

function changed(line: ResistivityLine, change: (one: Reading, i: number) => Reading) {
  return { ...line, readings: line.readings.map(change) };
}

const touches = ({ a, b, m, n }: Reading, electrode: number) => [a, b, m, n].includes(electrode);
const counted = (causes: readonly string[], cause: string) =>
  causes.filter((one) => one === cause).length;

describe("screenLine", () => {
  it("leaves a sound line alone", () => {
    const { causes, remarks } = screenLine(sound(), limits);
    expect(causes.every((cause) => cause === "")).toBe(true);
    expect(remarks).toEqual([]);
  });

  it("finds the errors that repeats of reciprocals show", () => {
    for (const noise of [0.01, 0.05]) {
      const line = measuredAs({ ...given, noise, seed: 3, reciprocals: 80 });
      const { sd, errors } = screenLine(line, limits);
      expect(errors.reciprocals).toBe(80);
      const mean = sd.reduce((sum, value) => sum + value, 0) / sd.length;
      // 80 pairs tell a standard deviation to 8 %; the belief beforehand pulls a little.
      expect(mean / noise).toBeGreaterThan(0.75);
      expect(mean / noise).toBeLessThan(1.3);
    }
  });

  it("sets readings aside one by one, with the cause", () => {
    const line = changed(sound(), (one, i) => {
      if (i === 0) return { ...one, deviation_pct: 7 };
      if (i === 1) return { ...one, voltage_mV: -one.voltage_mV };
      if (i === 2) return { ...one, voltage_mV: 0.01 };
      if (i === 3) return { ...one, current_mA: Number.NaN };
      if (i === 4) return { ...one, a: 99 };
      if (i === 50) return { ...one, voltage_mV: 4 * one.voltage_mV };
      return one;
    });
    const { causes } = screenLine(line, limits);
    expect(causes.slice(0, 5)).toEqual([
      "stacking deviation above 5 %",
      "negative apparent resistivity",
      "voltage under 0.1 mV",
      "no value",
      "an electrode that the line does not have",
    ]);
    expect(causes[50]).toBe("stands apart from its neighbours");
    expect(causes.filter((cause) => cause !== "")).toHaveLength(6);
  });

  it("names a dead electrode and sets its readings aside, no others", () => {
    const random = seededRandom(5);
    const line = changed(sound(), (one) =>
      touches(one, 12) ? { ...one, voltage_mV: 3 * random.normal() } : one,
    );
    const { causes, remarks } = screenLine(line, limits);
    const own = line.readings.filter((one) => touches(one, 12)).length;
    expect(counted(causes, "electrode 12 without contact")).toBe(own);
    expect(causes.filter((cause) => cause !== "")).toHaveLength(own);
    expect(remarks).toEqual([
      "Most readings with electrode 12 are bad: all of them are set aside.",
    ]);
  });

  it("names two electrodes that were connected the wrong way round", () => {
    const swap = (number: number) => (number === 20 ? 21 : number === 21 ? 20 : number);
    const ratio = spreads.map(({ a, b, m, n }, i) => {
      const connected = positionsOf({ a: swap(a), b: swap(b), m: swap(m), n: swap(n) }, electrodes);
      const as = geometricFactor(positionsOf(spreads[i]!, electrodes)) / geometricFactor(connected);
      return (as * spreadResponse(earth, connected)) / apparent_ohm_m[i]!;
    });
    const written = changed(measuredAs({ ...given, reciprocals: 0 }), (one, i) => {
      return { ...one, voltage_mV: one.voltage_mV * ratio[i]! };
    });
    const { causes, remarks } = screenLine(written, limits);
    expect(remarks.join()).toContain("Electrodes 20 and 21 look exchanged");
    expect(remarks).toHaveLength(1);
    const without = causes.filter((cause, i) => {
      const one = written.readings[i]!;
      return cause !== "" && !touches(one, 20) && !touches(one, 21);
    });
    expect(without).toEqual([]);
  });

  it("names electrodes that share a place, and those out of order", () => {
    const line = sound();
    const moved = line.electrodes.map((one) =>
      one.electrode === 8 ? { ...one, x_m: 6 } : one.electrode === 15 ? { ...one, x_m: 16.4 } : one,
    );
    const { causes, remarks } = screenLine({ ...line, electrodes: moved }, limits);
    expect(remarks.slice(0, 2)).toEqual([
      "Electrodes 17, 15 stand out of the order of their numbers; each is taken where the file puts it.",
      "Electrodes 7 and 8 share a place: readings with either are set aside.",
    ]);
    const own = line.readings.filter((one) => touches(one, 7) || touches(one, 8)).length;
    expect(counted(causes, "electrodes 7 and 8 share a place")).toBe(own);
  });

  it("keeps a line with 40 % bad readings and a dead electrode apart from its bad ones", () => {
    const random = seededRandom(9);
    const bad = new Set<number>();
    const line = changed(sound(2), (one, i) => {
      if (touches(one, 12)) return { ...one, voltage_mV: 3 * random.normal() };
      if (random.uniform() > 0.4) return one;
      bad.add(i);
      const kind = random.integer(3);
      if (kind === 0) return { ...one, deviation_pct: 6 + 20 * random.uniform() };
      if (kind === 1) return { ...one, voltage_mV: -one.voltage_mV };
      return { ...one, voltage_mV: 0.02 * random.normal() };
    });
    const { causes } = screenLine(line, limits);
    const dead = line.readings.filter((one) => touches(one, 12)).length;
    expect(counted(causes, "electrode 12 without contact")).toBe(dead);
    const wrong = causes.filter((cause, i) => {
      return (cause !== "") !== (bad.has(i) || touches(line.readings[i]!, 12));
    });
    expect(wrong).toEqual([]);
  });
});
