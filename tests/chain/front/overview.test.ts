import { describe, expect, it } from "vitest";
import type { Findings } from "../../../lib/chain/findings.js";
import { overviewFigure } from "../../../lib/chain/front/overview-figure.js";
import { overviewMap } from "../../../lib/chain/front/overview-map.js";
import { findingsSummary, headline } from "../../../lib/chain/front/summary.js";
import { frozen } from "../../../lib/step/frozen.js";
import { expectDraws, expectValidSpec } from "../../figures/support/check-spec.js";
import { smallSurvey } from "../../support/small-survey.js";

const block = (name: string, from_m: number, to_m: number, p90 = 50) => {
  const resistivity_ohm_m = [{ top_m: 0, base_m: 2, median: 40, p10: 30, p90 }];
  const one = { id: `B${from_m}`, from_m, to_m, class: name, resistivity_ohm_m };
  return one as unknown as Findings["blocks"][number];
};
const metal = (campaign: string, object: string) => ({
  ...{ campaign, from_m: 120, to_m: 125, object, channels: [], readings: 4 },
  cause: object === "" ? ("detected" as const) : ("both" as const),
});

function findings(more: Partial<Findings> = {}): Findings {
  return frozen({
    survey: { name: "s", embankment: "Sedgeholm Bank", length_m: 400, campaigns: ["a", "b"] },
    ...{ drift: [], setAside: [], unexplained: [], silentNotes: [], blocks: [], changes: [] },
    ...{ sections: [], seepage: [], boreholes: [], robustness: [], cautions: [], decisions: [] },
    depth: { slices: [], independentLevels: 0, reliableTo_m: 0, misfit: 0 },
    ...more,
  });
}

const full = findings({
  blocks: [block("C", 0, 150), block("A", 150, 400)],
  setAside: [metal("a", ""), metal("b", "")],
  changes: [
    { from_m: 200, to_m: 260, direction: "fell", earlier: "a", later: "b", ratio: 0.8, q: 0.01 },
  ] as unknown as Findings["changes"],
  seepage: [
    { rank: 1, from_m: 190, to_m: 240, band: "moderate", probability: 0.5, score: 0, evidence: [] },
  ] as unknown as Findings["seepage"],
  boreholes: [
    {
      id: "H1",
      chainage_m: 215,
      offset_m: 0,
      depth_m: 6,
      purpose: "zone 1",
      reason: "",
      priority: 1,
    },
  ],
});

const labelsOf = (given: Findings) => JSON.stringify(overviewFigure(given).spec);

describe("the bank at a glance", () => {
  it("does not say that a block is of one make whose ground changes along it", () => {
    const even = findings({ blocks: [block("A", 0, 400)] });
    expect(headline(even)).toContain("1 block of 1 kind of ground;");
    const uneven = findings({ blocks: [block("A", 0, 400, 240)] });
    expect(headline(uneven)).toContain("1 block of 1 kind of ground, not of one make;");
    const two = findings({ blocks: [block("A", 0, 100), block("B", 100, 400, 240)] });
    expect(headline(two)).toContain("2 blocks of 2 kinds of ground, 1 of them not of one make;");
  });

  it("does not call metal what jumps as noise does", () => {
    const noisy = { ...metal("a", ""), jumps: true as const };
    expect(findingsSummary(findings({ setAside: [noisy] }))).toContain(
      "at 1 place; 1 of them no note explains. At 1 of these the readings jump one by one, as noise",
    );
    expect(findingsSummary(full)).not.toContain("jump");
  });

  it("answers make, metal, change, seepage and holes in rows, and draws", async () => {
    for (const given of [full, findings()]) {
      const { spec } = overviewFigure(given);
      expectValidSpec(spec);
      await expectDraws(spec);
    }
    expect(labelsOf(full)).toContain("Boreholes proposed");
  });

  it("says of an empty row whether nothing was found or nothing was asked", () => {
    expect(labelsOf(findings())).toContain("Change between campaigns: none found");
    const { survey } = findings();
    const single = findings({ survey: { ...survey, campaigns: ["a"] } });
    expect(labelsOf(single)).toContain("one campaign, none to compare with");
  });

  it("gives classes their colours by name, not by where they come first", () => {
    const text = labelsOf(full);
    expect(text).toContain('"domain":["A","C"]');
    const reversed = labelsOf(findings({ blocks: [block("A", 0, 150), block("C", 150, 400)] }));
    expect(reversed).toContain('"domain":["A","C"]');
  });

  it("has a plan of the same, with as many counts in its title as there are findings", async () => {
    const { centreline } = smallSurvey({ length_m: 400 });
    const map = overviewMap(full, centreline);
    expectValidSpec(map.spec);
    await expectDraws(map.spec);
    expect(map.title).toBe(
      "Sedgeholm Bank in plan: 1 changed stretch, 1 seepage zone, 1 proposed borehole",
    );
    expect(overviewMap(findings(), centreline).title).toBe("Sedgeholm Bank in plan: its blocks");
  });
});

describe("the summary", () => {
  it("counts objects, not stretches of campaigns", () => {
    expect(findingsSummary(full)).toBe(
      "Sedgeholm Bank, 0.4 km: 2 blocks of 2 kinds of ground; changed between campaigns: " +
        "200–260 m; first to look at for seepage: 190–240 m (moderate). Metal or structures " +
        "disturb the readings at 1 place; 1 of them no note explains. 1 borehole proposed, the " +
        "first at 215 m.",
    );
  });

  it("does not count blocks where none was cut", () => {
    expect(headline(findings({ blocks: [] }))).toContain(
      ": not cut into blocks, since no depth slice",
    );
  });

  it("says of the first zone that it rests on disturbed readings", () => {
    const seepage = full.seepage.map((zone) => ({ ...zone, disturbed: true as const }));
    expect(headline({ ...full, seepage })).toMatch(
      /190–240 m \(moderate, on disturbed readings\)$/,
    );
  });

  it("does not say that no change was found where campaigns could not be compared", () => {
    const said = (...unknown_pct: number[]) =>
      headline({
        ...findings(),
        compared: unknown_pct.map((one) => {
          return { earlier: "2031-10", later: "2032-03", unknown_pct: one };
        }),
      });
    expect(said(100)).toContain("; change between campaigns unknown;");
    expect(said(70)).toContain("unknown on 70 % of the bank, none found on the rest;");
    expect(said(30)).toContain("no change found between campaigns");
    expect(said(100, 30)).toContain("no change found between campaigns");
  });

  it("never takes what was not found for harmless", () => {
    const text = headline(findings());
    expect(text).toContain("no change found between campaigns");
    expect(text).toContain("no stretch stands out for seepage");
    expect(text).not.toMatch(/safe|harmless|sound/);
  });
});
