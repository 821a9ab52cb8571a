// The least survey that the contract allows: a centreline and one walk of apparent conductivities.
// No notes, no base checks, no temperature, one campaign. Everything runs; nothing is made up.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Findings } from "../../lib/chain/findings.js";
import { seededRandom } from "../../lib/numerics/random.js";
import { inFolder, minimalSurvey } from "../survey/support/survey-folder.js";
import { banquette, type Ran } from "./banquette.js";

const out = join(mkdtempSync(join(tmpdir(), "banquette-minimal-")), "out");
let ran: Ran;
let checked: Ran;

/** A walk of 300 readings along the first 196 m; the ground conducts twice as well beyond 100 m. */
function walk(): string[] {
  const random = seededRandom(3);
  const rows = Array.from({ length: 300 }, (_, i) => {
    const metres = i * 0.655;
    const longitude = 3 + metres / 65_600;
    const time = new Date(Date.UTC(2031, 9, 14, 8, 0, i)).toISOString();
    const ground = metres < 100 ? 14 : 28;
    const reading = (share: number) => (share * ground + 0.3 * random.normal()).toFixed(2);
    return `${time},${longitude.toFixed(7)},54,${reading(1)},${reading(0.8)}`;
  });
  return ["time,longitude,latitude,c_hcp,c_vcp", ...rows];
}

beforeAll(async () => {
  const sketch = minimalSurvey();
  sketch.files["walk.csv"] = walk();
  await inFolder(sketch, async (folder) => {
    checked = await banquette("check", folder);
    ran = await banquette("appendix", folder, "--out", out);
  });
});
afterAll(() => rmSync(join(out, ".."), { recursive: true, force: true }));

const findings = () => JSON.parse(readFileSync(join(out, "findings.json"), "utf8")) as Findings;

describe("the minimal survey", () => {
  it("passes the check and runs through", () => {
    expect(checked.status, checked.stderr).toBe(0);
    expect(ran.status, ran.stderr).toBe(0);
  });

  it("has every list, and cautions for what is not there", () => {
    const found = findings();
    expect(found.survey.campaigns).toEqual(["2031-10"]);
    expect(found.changes).toEqual([]);
    expect(found.silentNotes).toEqual([]);
    expect(found.drift.every((one) => one.model === "none")).toBe(true);
    const texts = found.cautions.map((caution) => `${caution.step}: ${caution.text}`).join("\n");
    for (const step of ["openSurvey", "correctDrift", "compareCampaigns", "scoreSeepage"]) {
      expect(texts).toContain(`${step}: `);
    }
    expect(texts).toMatch(/base checks/i);
    expect(texts).toMatch(/one campaign/i);
  });

  it("finds the one change of ground that is there", () => {
    const inner = findings()
      .blocks.slice(1)
      .map((block) => block.from_m);
    expect(inner.some((x) => Math.abs(x - 100) <= 6)).toBe(true);
    expect(inner.length).toBeLessThanOrEqual(2);
  });

  it("gives no exit gradient without levels", () => {
    for (const zone of findings().seepage) expect(zone.exitGradient).toBeNull();
  });
});
