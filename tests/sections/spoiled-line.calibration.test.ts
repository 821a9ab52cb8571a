import { describe, expect, it } from "vitest";
import { spreadResponse } from "../../lib/earth/spread-response.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { invertSection } from "../../lib/sections/invert-section.js";
import { positionsOf, type SectionSpread } from "../../lib/sections/section-input.js";
import type { ResistivityLine } from "../../lib/survey/resistivity-line.js";
import {
  dipoleSpreads,
  electrodesAt,
  measuredAs,
  wennerSpreads,
} from "../support/electrode-lines.js";
import { expectClose } from "../support/expect-close.js";

const COUNT = 40;
const electrodes = electrodesAt(COUNT);
const spreads = [
  ...wennerSpreads(COUNT, [1, 2, 3, 4, 5, 6, 8]),
  ...dipoleSpreads(COUNT, [1, 2, 3, 4, 5, 6]),
];
const earth = { resistivity_ohm_m: [60, 20], thickness_m: [2] };

type Reading = ResistivityLine["readings"][number];

const touches = ({ a, b, m, n }: Reading, electrode: number) => [a, b, m, n].includes(electrode);
const swapped = (number: number) => (number === 20 ? 21 : number === 21 ? 20 : number);

/** Numbers that do not follow the places: the 26th electrode is called 28. */
const relabelled = (number: number) => (number === 26 ? 28 : number === 28 ? 26 : number);

/** The resistance that a spread is written down with where 20 and 21 were connected crosswise. */
function asWritten({ a, b, m, n }: SectionSpread): number {
  const asked = positionsOf({ a, b, m, n }, electrodes);
  const met = { a: swapped(a), b: swapped(b), m: swapped(m), n: swapped(n) };
  const factor = (given: typeof asked) => {
    const one = (p: number, q: number) => 1 / Math.abs(p - q);
    const { a_m, b_m, m_m, n_m } = given;
    return one(a_m, m_m) - one(b_m, m_m) - one(a_m, n_m) + one(b_m, n_m);
  };
  const places = positionsOf(met, electrodes);
  return (spreadResponse(earth, places) * factor(places)) / factor(asked);
}

/** A line with everything wrong at once, and what is bad in it by itself. */
function spoiled(): { readonly line: ResistivityLine; readonly bad: number } {
  const random = seededRandom(17);
  const apparent_ohm_m = spreads.map(asWritten);
  const sound = measuredAs({ electrodes, spreads, apparent_ohm_m, noise: 0.02, seed: 2 });
  let bad = 0;
  const readings = sound.readings.map((one) => {
    if (touches(one, 12)) return { ...one, voltage_mV: 3 * random.normal() };
    if (random.uniform() > 0.4) return one;
    bad += 1;
    const kind = random.integer(3);
    if (kind === 0) return { ...one, deviation_pct: 6 + 20 * random.uniform() };
    if (kind === 1) return { ...one, voltage_mV: -one.voltage_mV };
    return { ...one, voltage_mV: 0.02 * random.normal() };
  });
  const renumbered = readings.map((one) => {
    const { a, b, m, n } = one;
    return { ...one, a: relabelled(a), b: relabelled(b), m: relabelled(m), n: relabelled(n) };
  });
  const placed = sound.electrodes.map((one) => ({
    ...{ ...one, electrode: relabelled(one.electrode) },
    x_m: one.electrode === 5 ? 3 : one.x_m,
  }));
  return { line: { ...sound, electrodes: placed.reverse(), readings: renumbered }, bad };
}

describe("a line with 40 % bad readings, an electrode without contact, a pair exchanged", () => {
  it("and electrodes that share a place names each and shows the layers of the rest", async () => {
    const { line, bad } = spoiled();
    expect(bad / line.readings.length).toBeGreaterThan(0.3);
    const { value, cautions, accounting } = await invertSection(line, { draws: 80 });
    const said = cautions.map(({ text }) => text).join("\n");
    expect(said).toContain("Most readings with electrode 12 are bad");
    expect(said).toMatch(/28, 27, 26 stand out of the order of their numbers/);
    expect(said).toContain("Electrodes 5 and 4 share a place");
    expect(said).toContain("Electrodes 20 and 21 look exchanged");
    const causes = (accounting?.setAside ?? []).map(({ cause }) => cause);
    expect(causes).toEqual(
      expect.arrayContaining([
        "electrode 12 without contact",
        "electrodes 5 and 4 share a place",
        "stacking deviation above 5 %",
        "negative apparent resistivity",
      ]),
    );
    const { depth_m, reliable, p50_ohm_m } = value.cells;
    const down = depth_m.length - 1;
    const between = (top: number, base: number) =>
      Array.from(p50_ohm_m).filter((_, c) => {
        const row = c % down;
        return reliable[c] === 1 && depth_m[row]! >= top && depth_m[row + 1]! <= base;
      });
    const mean = (values: readonly number[]) =>
      Math.exp(values.reduce((sum, one) => sum + Math.log(one), 0) / values.length);
    expect(value.rms).toBeLessThan(1.15);
    expectClose(mean(between(0, 1.3)), 60, { relative: 0.08 });
    expectClose(mean(between(2.6, 5)), 20, { relative: 0.25 });
  });
});
