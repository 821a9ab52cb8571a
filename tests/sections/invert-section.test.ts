import { describe, expect, it } from "vitest";
import { spreadResponse } from "../../lib/earth/spread-response.js";
import { invertSection } from "../../lib/sections/invert-section.js";
import { positionsOf } from "../../lib/sections/section-input.js";
import type { InvertSectionOptions } from "../../lib/sections/section-options.js";
import {
  dipoleSpreads,
  electrodesAt,
  measuredAs,
  wennerSpreads,
} from "../support/electrode-lines.js";

const COUNT = 12;
const level = electrodesAt(COUNT);
const spreads = [...wennerSpreads(COUNT, [1, 2, 3]), ...dipoleSpreads(COUNT, [1, 2, 3])];
const quick = { draws: 50 };

/** A line over layers, 1 % noise. */
function overLayers(resistivity_ohm_m: readonly number[], thickness_m: readonly number[]) {
  const earth = { resistivity_ohm_m, thickness_m };
  const apparent_ohm_m = spreads.map((spread) => spreadResponse(earth, positionsOf(spread, level)));
  return measuredAs({ electrodes: level, spreads, apparent_ohm_m, noise: 0.01, seed: 4 });
}

describe("invertSection", () => {
  it("keeps its account, and changes neither line nor options", async () => {
    const line = overLayers([40, 80], [2]);
    const readings = line.readings.map((one, i) => (i < 3 ? { ...one, deviation_pct: 9 } : one));
    const frozen = Object.freeze({ ...line, readings: Object.freeze(readings) });
    const result = await invertSection(frozen, Object.freeze({ ...quick }));
    expect(result.accounting).toEqual({
      readings: readings.length,
      kept: readings.length - 3,
      corrected: 0,
      setAside: [{ cause: "stacking deviation above 5 %", readings: 3 }],
    });
    expect(result.figures.map(({ id }) => id)).toEqual(["section-T1", "section-readings-T1"]);
    expect(result.cautions.map(({ text }) => text).join(" ")).toContain("dangerous to life");
    const again = await invertSection(frozen, quick);
    expect(again.value).toEqual(result.value);
  });

  it("takes a known resistivity and a known interface into account", async () => {
    const line = overLayers([60, 15], [2]);
    const tie = { x_m: 5.5, top_m: 2.5, base_m: 3.5, resistivity_ohm_m: 15, log10Sd: 0.01 };
    const free = (await invertSection(line, quick)).value;
    const tied = (await invertSection(line, { ...quick, ties: [tie] })).value;
    const down = free.cells.depth_m.length - 1;
    const column = free.cells.x_m.findIndex((edge) => edge >= 6) - 1;
    const below = free.cells.depth_m.findIndex((edge) => edge >= 3) - 1;
    const cell = column * down + below;
    expect(tied.cells.log10Sd[cell]!).toBeLessThan(free.cells.log10Sd[cell]!);
    const broken = (await invertSection(line, { ...quick, breaks: [{ elevation_m: -2 }] })).value;
    const row = free.cells.depth_m.findIndex((_, j, all) => (all[j]! + all[j + 1]!) / 2 > 2);
    const jump = (section: typeof free) =>
      section.cells.log10Resistivity[column * down + row - 1]! -
      section.cells.log10Resistivity[column * down + row]!;
    expect(jump(broken)).toBeGreaterThan(jump(free));
  });

  it("reports progress up to the end", async () => {
    const seen: number[] = [];
    const progress = (done: number, total: number) => seen.push(done / total);
    await invertSection(overLayers([40, 80], [2]), { ...quick, progress });
    expect(seen.length).toBeGreaterThan(20);
    expect(seen.every((share, i) => i === 0 || share >= seen[i - 1]!)).toBe(true);
    expect(seen.at(-1)).toBe(1);
  });

  it("refuses what leaves nothing to invert, all faults by name", async () => {
    const line = overLayers([40, 80], [2]);
    const none = { ...line, readings: line.readings.slice(0, 10) };
    const options: Partial<InvertSectionOptions> = { campaign: "2040-01" };
    await expect(invertSection(none)).rejects.toThrow(
      "invertSection: line T1 must be a line with 20 readings or more in use, got 10 of 10",
    );
    await expect(invertSection(line, options)).rejects.toThrow(
      'invertSection: options.campaign must be one of "2031-10", got "2040-01"',
    );
    await expect(invertSection({ ...line, electrodes: [] })).rejects.toThrow(
      "a line with 4 placed electrodes or more",
    );
  });
});
