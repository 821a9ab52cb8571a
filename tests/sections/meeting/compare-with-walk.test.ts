import { beforeAll, describe, expect, it } from "vitest";
import { spreadResponse } from "../../../lib/earth/spread-response.js";
import { invertSection } from "../../../lib/sections/invert-section.js";
import { compareWithWalk } from "../../../lib/sections/meeting/compare-with-walk.js";
import { tiesFromSection } from "../../../lib/sections/meeting/ties-from-section.js";
import type { Section } from "../../../lib/sections/section.js";
import { positionsOf } from "../../../lib/sections/section-input.js";
import { makeDepthSlices } from "../../support/depth-slices.js";
import {
  dipoleSpreads,
  electrodesAt,
  measuredAs,
  wennerSpreads,
} from "../../support/electrode-lines.js";

const COUNT = 14;
const electrodes = electrodesAt(COUNT);
const spreads = [...wennerSpreads(COUNT, [1, 2, 3, 4]), ...dipoleSpreads(COUNT, [1, 2, 3])];
const earth = { resistivity_ohm_m: [50, 20], thickness_m: [1] };

let section: Section;

beforeAll(async () => {
  const apparent_ohm_m = spreads.map((spread) =>
    spreadResponse(earth, positionsOf(spread, electrodes)),
  );
  const line = measuredAs({ electrodes, spreads, apparent_ohm_m, noise: 0.01, seed: 2 });
  section = (await invertSection(line, { draws: 60 })).value;
});

/** A walk from 90 to 130 m over the same layers, or over others. */
function walk(top_ohm_m = 50) {
  const truth = (_: number, slice: number) => Math.log10(slice === 0 ? top_ohm_m : 20);
  const maker = { stations: 21, from_m: 90, edges_m: [0, 1, 2], texture: 0, sd: 0.05 };
  return makeDepthSlices({ ...maker, truth });
}

describe("compareWithWalk", () => {
  it("meets the walk at its stations over the section, within both spreads", () => {
    const { value } = compareWithWalk(section, walk());
    // The line runs from 100 to 113 m, stations stand every 2 m.
    expect(Array.from(value.chainage_m)).toEqual([100, 102, 104, 106, 108, 110, 112]);
    for (const slice of value.slices) {
      expect(slice.rms).toBeLessThan(1.6);
      expect(Math.abs(slice.shift)).toBeLessThan(0.12);
    }
  });

  it("says where they differ by more than their spreads", () => {
    const { value, cautions } = compareWithWalk(section, walk(150));
    expect(value.slices[0]!.shift).toBeGreaterThan(0.35);
    expect(value.slices[0]!.rms).toBeGreaterThan(3);
    expect(cautions.map(({ text }) => text).join()).toContain("differ by more than their spreads");
  });

  it("refuses a line across and one beside the walk, and says where no station is over it", () => {
    expect(() => compareWithWalk({ ...section, runs: "across" }, walk())).toThrow(
      "compareWithWalk: line T1 must be along the walked line, within 2 m of the centreline, got across",
    );
    expect(() => compareWithWalk({ ...section, offset_m: 5 }, walk())).toThrow("got 5 m off");
    const { value, summary } = compareWithWalk({ ...section, chainage_m: 900 }, walk());
    expect(value.chainage_m).toHaveLength(0);
    expect(summary).toBe("No station of the walk lies over line T1.");
  });
});

describe("tiesFromSection", () => {
  it("hands on reliable slices every few metres", () => {
    const ties = tiesFromSection(section, { every_m: 4, slices: [{ top_m: 0, base_m: 0.5 }] });
    expect(ties.map(({ chainage_m }) => chainage_m)).toEqual([102, 106, 110]);
    for (const tie of ties) {
      expect(Math.abs(Math.log10(tie.resistivity_ohm_m / 50))).toBeLessThan(0.1);
      expect(tie.log10Sd).toBeLessThan(0.1);
    }
  });

  it("hands nothing on from a line across", () => {
    const across = { ...section, runs: "across" as const };
    expect(tiesFromSection(across, { slices: [{ top_m: 0, base_m: 1 }] })).toEqual([]);
  });
});
