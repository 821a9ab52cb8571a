// A survey of a crest and a toe, and the same crest and toe each surveyed alone.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { checkDecisions } from "../../../lib/chain/decisions/check-decisions.js";
import type { Findings } from "../../../lib/chain/findings.js";
import { gatherFindings } from "../../../lib/chain/gather-findings.js";
import { type Interpretation, interpret } from "../../../lib/chain/interpret.js";
import { rerunFrom } from "../../../lib/chain/rerun-from.js";
import { standardLinks } from "../../../lib/chain/standard-links.js";
import { readingsOf } from "../../../lib/chain/work.js";
import { accountingCsv } from "../../../lib/handover/accounting-csv.js";
import { provenanceOf } from "../../../lib/handover/provenance.js";
import { openSurvey } from "../../../lib/place/open-survey.js";
import { decide } from "../../../lib/step/decision.js";
import { makeSurvey, surveyFiles } from "../../abroad/index.js";

const decisions = [
  decide("segmentBlocks.minLength_m", 30, { because: "a test says so" }),
  decide("maskInterference.threshold", 6, { because: "a test says so" }),
];

const files = surveyFiles(
  makeSurvey({
    seed: 8,
    ground: "blocks",
    instrument: "three separations HCP, VCP",
    errors: "field",
    length_m: 150,
    campaigns: 2,
    toe: true,
  }),
);

/** The interpretation of the readings whose line is kept. */
async function interpretation(keeps: (line: string) => boolean): Promise<Interpretation> {
  const folder = mkdtempSync(join(tmpdir(), "banquette-lines-"));
  try {
    for (const [name, text] of files) writeFileSync(join(folder, name), kept(name, text, keeps));
    return (await interpret(await openSurvey(folder), decisions)).value;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function kept(name: string, text: string, keeps: (line: string) => boolean): string {
  if (!name.startsWith("walk")) return text;
  const [header = "", ...rows] = text.split("\n");
  const at = header.split(",").indexOf("line");
  return [header, ...rows.filter((row) => row === "" || keeps(row.split(",")[at]!))].join("\n");
}

const LISTS = ["drift", "setAside", "unexplained", "silentNotes", "depth", "blocks", "changes"];

/** A line's own findings, as if it stood alone. */
function findingsOf(findings: Findings, line: string): Record<string, unknown> {
  const own = (list: unknown) =>
    (list as { line: string }[])
      .filter((one) => one.line === line)
      .map(({ line: _, ...rest }) => rest);
  return Object.fromEntries(
    LISTS.map((name) => [name, own((findings as unknown as Record<string, unknown>)[name])]),
  );
}

function alone(findings: Findings): Record<string, unknown> {
  return Object.fromEntries(
    LISTS.map((name) => [name, [(findings as unknown as Record<string, unknown>)[name]].flat()]),
  );
}

let [both, crest, toe]: Interpretation[] = [];
beforeAll(async () => {
  both = await interpretation(() => true);
  crest = await interpretation((line) => line === "crest");
  toe = await interpretation((line) => line === "toe");
});

describe("a survey of crest and toe", () => {
  it("finds on each line what that line alone gives, to the byte", () => {
    const parted = (line: string) => JSON.stringify(findingsOf(both!.findings, line));
    expect(parted("crest")).toBe(JSON.stringify(alone(crest!.findings)));
    expect(parted("toe")).toBe(JSON.stringify(alone(toe!.findings)));
    expect(both!.findings.blocks.length).toBeGreaterThan(1);
  });

  it("gives a survey of one line no line's name", () => {
    expect(JSON.stringify(crest!.findings.drift)).not.toContain('"line"');
    expect(Array.isArray(crest!.findings.depth)).toBe(false);
  });

  it("accounts for every reading once, in file order", () => {
    const rows = (work: Interpretation) => accountingCsv(readingsOf(work)).trim().split("\n");
    expect(rows(both!).length - 1).toBe(rows(crest!).length - 1 + rows(toe!).length - 1);
    const first = rows(both!).filter((row) => row.includes("walk-1-2031-10"));
    const numbers = first.map((row) => Number(row.split(",")[2]));
    expect(numbers).toEqual(numbers.toSorted((a, b) => a - b));
    expect(gatherFindings(both!).accounting?.readings).toBe(rows(both!).length - 1);
  });

  it("holds the decisions of both lines, and says in provenance what each was made with", () => {
    expect(checkDecisions(standardLinks, both!).faults).toEqual([]);
    const steps = provenanceOf(both!).steps.filter(({ step }) => step === "segmentBlocks");
    expect(steps.map(({ about, used }) => [about, used.minLength_m])).toEqual([
      ["2031-10", 30],
      ["toe, 2031-10", 30],
    ]);
  });

  it("tells a decision that the other line was not made under", () => {
    const line = both!.otherLines!.value[0]!;
    const blocks = line.work.blocks!;
    const other = { ...blocks, used: { ...blocks.used, minLength_m: 99 } };
    const otherLines = {
      ...both!.otherLines!,
      value: [{ ...line, work: { ...line.work, blocks: other } }],
    };
    const { faults } = checkDecisions(standardLinks, { ...both!, otherLines } as Interpretation);
    expect(faults.map(({ expected }) => expected)).toEqual([
      "what segmentBlocks used for minLength_m, 99",
    ]);
  });

  it("carries an alternative to the other line too", async () => {
    const rerun = await rerunFrom(both!, "segmentBlocks", { minLength_m: 70 });
    expect(rerun.otherLines?.value[0]?.work.blocks?.used.minLength_m).toBe(70);
    expect(rerun.slices).toBe(both!.slices);
    const same = await rerunFrom(both!, "scoreSeepage", { zoneFrom: 0.3 });
    expect(same.otherLines).toBe(both!.otherLines);
  });

  it("draws the lines side by side, and shows the toe's results under its name", () => {
    const figures = gatherFindings(both!).figures.map(({ id }) => id);
    expect(figures[2]).toBe("lines-side-by-side");
    expect(gatherFindings(crest!).figures.map(({ id }) => id)).not.toContain("lines-side-by-side");
    const [line] = both!.otherLines!.value;
    for (const result of line!.results) expect(result.summary).toMatch(/^toe: /);
    expect(line!.refused).toBeNull();
  });

  it("lets the toe speak in the evidence for seepage", () => {
    const sources = (work: Interpretation) =>
      work.seepage.value.pieces.find(({ name }) => name === "thin blanket at the toe")?.source;
    expect(sources(both!)).toContain("line toe");
    expect(sources(crest!)).toBe("");
  });
});
