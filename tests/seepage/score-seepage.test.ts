import { describe, expect, it } from "vitest";
import type { Changes } from "../../lib/campaigns/pair/changes.js";
import { seepageDefaults } from "../../lib/seepage/options.js";
import { scoreSeepage } from "../../lib/seepage/score-seepage.js";
import type { EvidenceName } from "../../lib/seepage/seepage.js";
import { StepError } from "../../lib/step/step-error.js";
import { makeDepthSlices } from "../support/depth-slices.js";
import { expectClose } from "../support/expect-close.js";
import { once } from "../support/once.js";
import { smallSurvey } from "../support/small-survey.js";

/** Conductive ground with a resistive layer below 1 m between 300 and 360 m. */
const lens = (x: number, slice: number) => Math.log10(slice > 0 && x >= 300 && x <= 360 ? 120 : 20);
const slices = makeDepthSlices({ truth: lens, texture: 0.01 });
const plain = makeDepthSlices({ truth: () => Math.log10(20), texture: 0.01 });

/** The scores that several tests look at. */
const scored = {
  lens: once(() => scoreSeepage({ survey: smallSurvey(), slices })),
  plain: once(() => scoreSeepage({ survey: smallSurvey(), slices: plain })),
};

const pieceOf = (result: ReturnType<typeof scoreSeepage>, name: EvidenceName) =>
  result.value.pieces.find((piece) => piece.name === name)!;
const valueAt = (result: ReturnType<typeof scoreSeepage>, name: EvidenceName, x: number) => {
  const cell = result.value.chainage_m.findIndex((at) => Math.abs(at - x) <= 2.5);
  return pieceOf(result, name).value[cell]!;
};

function changeOf(sketch: Partial<Changes>): Changes {
  return {
    earlier: "2031-10",
    later: "2032-03",
    changes: [],
    chainage_m: slices.chainage_m,
    log10Ratio: [],
    sd: [],
    level: [],
    slices: [],
    unknown: [],
    ...sketch,
  };
}

const fell = {
  from_m: 310,
  to_m: 350,
  earlier: "2031-10",
  later: "2032-03",
  direction: "fell" as const,
  ratio: 0.8,
  q: 0.001,
  slices: ["1.0–2.5"],
};

/** Two campaigns half a year apart with the river 1.5 m higher at the second. */
function twoCampaigns(riverRise_m: number) {
  const survey = smallSurvey();
  const [first] = survey.campaigns;
  const start = first!.passes[0]!.time_s[0]!;
  const later_s = start + 180 * 86_400;
  const second = {
    ...first!,
    label: "2032-03",
    passes: first!.passes.map((pass) => ({
      ...pass,
      time_s: pass.time_s.map((t) => t + 180 * 86_400),
    })),
  };
  const level = (time_s: number, level_m: number) => ({
    time_s,
    point: "river",
    level_m,
    chainage_m: null,
  });
  const waterLevels = [level(start, 3), level(later_s, 3 + riverRise_m)];
  return smallSurvey({ campaigns: [first!, second], waterLevels });
}

describe("scoreSeepage", () => {
  it("names the lens under its blanket as the first zone", () => {
    const { value } = scored.lens();
    const [first] = value.zones;
    expect(first!.rank).toBe(1);
    // The walk is averaged over 16 m before it is compared, and cells are 5 m long.
    expectClose(first!.from_m, 300, { absolute: 10.5 });
    expectClose(first!.to_m, 360, { absolute: 10.5 });
  });

  it("names no zone on uniform conductive ground", () => {
    const result = scored.plain();
    expect(result.value.zones).toEqual([]);
    expect(result.summary).toContain("Nothing stands out here.");
    expect(result.summary).toMatch(/A body of sand of \d+ m by [\d.]+ m would have shown/);
  });

  it("scores a zone as its starting odds and the evidence beside it, to the digit", () => {
    const survey = smallSurvey({
      incidents: [{ date: "2031-01-04", chainage_m: 330, kind: "sand boil", text: "" }],
    });
    const start = seepageDefaults.startingProbability;
    for (const zone of scoreSeepage({ survey, slices }).value.zones) {
      const evidence = zone.evidence.reduce((sum, piece) => sum + piece.weight, 0);
      expectClose(zone.score, Math.log(start / (1 - start)) + evidence, { absolute: 1e-9 });
      expectClose(zone.probability, 1 / (1 + Math.exp(-zone.score)), { absolute: 1e-12 });
    }
  });

  it("adds the whole weight of a sand boil at its place, and less further off", () => {
    const survey = smallSurvey({
      incidents: [
        { date: "2031-01-04", chainage_m: 100, kind: "sand boil", text: "" },
        { date: "2031-01-04", chainage_m: 500, kind: "crack", text: "dry" },
      ],
    });
    const result = scoreSeepage({ survey, slices });
    expectClose(valueAt(result, "recorded incident", 100), 1, { absolute: 0.01 });
    expectClose(valueAt(result, "recorded incident", 115), Math.exp(-1), { absolute: 0.01 });
    expect(valueAt(result, "recorded incident", 500)).toBeNaN();
  });

  it("counts a fall of resistivity as wetter only where the river had risen", () => {
    const at = (rise_m: number) => {
      const changes = [changeOf({ changes: [fell] })];
      return scoreSeepage({ survey: twoCampaigns(rise_m), slices, changes });
    };
    const risen = at(1.5);
    expect(valueAt(risen, "wetter at high water", 330)).toBe(1);
    expect(valueAt(risen, "wetter at high water", 500)).toBe(0);
    expect(valueAt(at(-1.5), "wetter at high water", 330)).toBe(0);
    expect(valueAt(at(0.1), "wetter at high water", 330)).toBeNaN();
  });

  it("adds nothing where a change is unknown or was never measured", () => {
    const survey = twoCampaigns(1.5);
    const unknown = [{ from_m: 320, to_m: 340 }];
    const result = scoreSeepage({ survey, slices, changes: [changeOf({ unknown })] });
    expect(valueAt(result, "wetter at high water", 330)).toBeNaN();
    const single = scored.lens();
    const piece = pieceOf(single, "wetter at high water");
    expect(piece.value.every(Number.isNaN)).toBe(true);
    expect(piece.weight.every((weight) => weight === 0)).toBe(true);
    expect(single.cautions.some(({ text }) => text.includes("unknown, not absent"))).toBe(true);
  });

  it("always says that resistivity alone proves no seepage", () => {
    const { cautions } = scored.lens();
    const told = cautions.map(({ text }) => text).join("\n");
    for (const part of [
      "resistivity alone proves none",
      "licensed engineer",
      "buried services",
      "plan to seal the hole",
    ]) {
      expect(told.replaceAll("\n", " ")).toContain(part);
    }
  });

  it("says of no stretch that it is safe", () => {
    for (const result of [scored.lens(), scored.plain()]) {
      const said = JSON.stringify([result.summary, result.cautions, result.tables, result.basis]);
      expect(said).not.toMatch(/\bsafe\b/i);
      expect(JSON.stringify(result.figures)).not.toMatch(/\bsafe\b/i);
    }
  });

  it("keeps the order of zones when the starting odds move", () => {
    const survey = smallSurvey({
      incidents: [{ date: "2031-01-04", chainage_m: 330, kind: "wet patch", text: "" }],
    });
    const twice = makeDepthSlices({
      truth: (x, k) => (x > 500 && x < 540 && k > 0 ? Math.log10(120) : lens(x, k)),
      texture: 0.01,
    });
    const order = (startingProbability: number) =>
      scoreSeepage({ survey, slices: twice }, { startingProbability, zoneFrom: 0.1 })
        .value.zones.slice(0, 2)
        .map((zone) => Math.round(zone.from_m / 100));
    expect(order(0.05)).toEqual([3, 5]);
    expect(order(0.08)).toEqual([3, 5]);
  });

  it("names every bad option at once", () => {
    const bad = {
      startingProbability: 1,
      cell_m: Number.NaN,
      bands: { moderate: 0.8, high: 0.5 },
      hydraulics: { ...seepageDefaults.hydraulics, landside_m: [300, 50] as const },
      weight: 1,
    };
    try {
      scoreSeepage({ survey: smallSurvey(), slices }, bad);
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(StepError);
      expect((error as StepError).faults.map((fault) => fault.path)).toEqual([
        "options.startingProbability",
        "options.cell_m",
        "options.bands",
        "options.hydraulics.landside_m",
        "options.weight",
      ]);
    }
  });
});
