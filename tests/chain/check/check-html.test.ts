import { describe, expect, it } from "vitest";
import { checkHtml } from "../../../lib/chain/check/check-html.js";
import { checkSurvey } from "../../../lib/chain/check/check-survey.js";
import { inFolder, setCell, wholeSurvey } from "../../survey/support/survey-folder.js";
import { walkedSurvey } from "../../survey/support/walked-survey.js";

describe("checkHtml", () => {
  it("is one page without script or anything from elsewhere, with every section", async () => {
    const html = await checkHtml(await checkSurvey("data-demo/sedgeholm"), { name: "sedgeholm" });
    expect(html).toMatch(/^<!doctype html>/);
    expect(html).not.toMatch(/<script|(src|href)="(?!#)|@import|url\((?!#)/);
    for (const text of [
      "No faults",
      "What each step can do",
      "What is there",
      "Coverage along the bank",
    ]) {
      expect(html).toContain(text);
    }
    expect(html).toContain("<svg");
    expect(html).toContain("bridged by time");
  });

  it("names every fault, rows of a kind together, text made safe", async () => {
    const survey = wholeSurvey();
    for (const row of [3, 4, 5]) {
      setCell(survey, { file: "walk.csv", row, field: "c_hcp" }, "<b>x</b>");
    }
    setCell(survey, { file: "strata.csv", row: 4, field: "top_m" }, "8");
    const html = await inFolder(survey, async (folder) => checkHtml(await checkSurvey(folder)));
    expect(html).toContain("4 faults in 2 files");
    expect(html).toContain("3–5");
    expect(html).toContain("&lt;b&gt;x&lt;/b&gt;");
    expect(html).not.toContain("<b>x");
  });

  it("shows passes against each other and pegs against the positions", async () => {
    const survey = walkedSurvey({
      passes: [{ way: 1 }, { way: -1 }],
      lag_s: 1.5,
      seed: 13,
      pegs: [{ row: 120 }],
    });
    const check = await inFolder(survey, checkSurvey);
    expect(check.placing.map(({ id }) => id)).toEqual(["passes-together", "pegs"]);
    const html = await checkHtml(check);
    expect(html).toContain("Second ahead by (m)");
    expect(html).toContain("brought to their middle");
    expect(html).toContain("peg 1");
  });

  it("says what can still be said where there is no centreline", async () => {
    const survey = wholeSurvey();
    delete survey.files["centreline.geojson"];
    const html = await inFolder(survey, async (folder) => checkHtml(await checkSurvey(folder)));
    expect(html).toContain("Without a usable centreline nothing can be placed along the bank.");
    expect(html).toContain("walk.csv");
  });
});

describe("the coverage that check reports", () => {
  it("has stretches with readings, bridged ones, and none, and the pace", async () => {
    const sketch = {
      gaps: [
        [100, 120],
        [300, 360],
      ] as const,
      seed: 3,
      jitter_m: 0.1,
    };
    const { coverage } = await inFolder(walkedSurvey(sketch), checkSurvey);
    const pass = coverage[0]!;
    const { truth_m } = walkedSurvey(sketch);
    const covers = (kind: string) => pass.stretches.filter((stretch) => stretch.kind === kind);
    // Stretches are told to the 5 m of their cells.
    const near = (x: number, y: number) => expect(Math.abs(x - y)).toBeLessThanOrEqual(6);
    expect(covers("bridged")).toHaveLength(1);
    near(covers("bridged")[0]!.from_m, truth_m[0]![100]!);
    const hole = covers("none").find(({ from_m }) => Math.abs(from_m - truth_m[0]![300]!) <= 6)!;
    near(hole.to_m, truth_m[0]![360]!);
    expect(pass.speed_m_per_s!.median).toBeGreaterThan(1.1);
    expect(pass.speed_m_per_s!.median).toBeLessThan(1.3);
    expect(pass.readings - pass.used).toBe(60);
    expect(pass.placement.gaps.map(({ isBridged }) => isBridged)).toEqual([true, false]);
  });
});
