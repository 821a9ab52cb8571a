import { describe, expect, it } from "vitest";
import { expectClose } from "../../support/expect-close.js";
import { INSTRUMENT_KINDS, makeInstrument } from "../field/instruments.js";
import { BANKS, layeredSlopes, SECTIONS, sectionSlopes } from "./slopes.js";

const even = { top_m: [0, 0.4, 1.3, 2.2, 5], log10: [1.6, 1.6, 1.6, 1.6, 1.6] };
const instruments = INSTRUMENT_KINDS.map(makeInstrument);
const channelsOf = (instrument: (typeof instruments)[number]) =>
  instrument.walks.flatMap(({ channels }) => channels);

describe("banks with slopes", () => {
  it("have factors for every channel of every instrument", () => {
    for (const bank of BANKS) {
      for (const instrument of instruments) {
        const slopes = layeredSlopes(bank, instrument.height_m);
        for (const channel of channelsOf(instrument)) {
          const factor = slopes.factor(channel, even);
          expect(factor).toBeGreaterThan(0.6);
          expect(factor).toBeLessThan(0.97);
        }
      }
    }
    expect(() =>
      layeredSlopes("broad", 0.77).factor(channelsOf(instruments[0]!)[0]!, even),
    ).toThrow(/no finite elements/);
  });

  it("make of one material what its own section makes, by layers or whole", () => {
    for (const bank of BANKS) {
      for (const instrument of instruments) {
        const whole = sectionSlopes(bank, "homogeneous", instrument.height_m);
        const layered = layeredSlopes(bank, instrument.height_m);
        for (const channel of channelsOf(instrument)) {
          // The parts are rounded to 1e-5 each; the mesh and the box of 3 km leave 3e-3.
          const factor = layered.factor(channel, even);
          expectClose(factor, whole.factor(channel, even), { absolute: 3e-3 });
        }
      }
    }
  });

  it("differ by what they are made of, and stand under the line as a column", () => {
    const [instrument] = instruments;
    const channel = channelsOf(instrument!)[0]!;
    const factors = SECTIONS.map((section) => {
      const slopes = sectionSlopes("narrow", section, instrument!.height_m);
      expect(slopes.column?.top_m.length).toBe(slopes.column?.log10.length);
      return slopes.factor(channel, even);
    });
    const [homogeneous, onClay, onSand] = factors;
    expect(onClay).toBeGreaterThan(homogeneous! + 0.05);
    expect(onSand).toBeLessThan(homogeneous! - 0.05);
  });
});
