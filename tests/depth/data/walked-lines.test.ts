import { describe, expect, it } from "vitest";
import { linesText, onLine, walkedLines } from "../../../lib/depth/data/walked-lines.js";
import { estimateDepthSlices } from "../../../lib/depth/estimate-depth-slices.js";
import { StepError } from "../../../lib/step/step-error.js";
import type { Campaign, Pass } from "../../../lib/survey/survey.js";
import { walked } from "../../support/walked.js";

const SPACING = { spacing_m: 10 };

/** Two passes over 200 m at a distance from the centreline, under names of their own. */
function line(name: string, offset_m: number, upper_ohm_m: number): Campaign {
  const ground = { thickness_m: [1.5], conductivity_S_per_m: [1 / upper_ohm_m, 0.02] };
  const groundAt = () => ground;
  const campaign = walked({ groundAt, length_m: 200, noise: 0.5, seed: 81 + offset_m });
  const passes = campaign.passes.map((pass, p): Pass => {
    const own = `${name}-${p === 0 ? "out" : "back"}`;
    return {
      ...pass,
      resource: `${own}`,
      line: pass.line.map(() => own),
      offset_m: pass.offset_m.map((_, i) => offset_m + 0.2 * Math.sin(i)),
    };
  });
  return { ...campaign, passes };
}

const crest = line("crest", 0, 25);
const toe = line("toe", -14, 80);
const both: Campaign = {
  ...crest,
  passes: [...crest.passes, ...toe.passes],
};

describe("the lines of a campaign", () => {
  it("are told apart by where they lie across the bank, not by name alone", () => {
    const lines = walkedLines(both);
    expect(lines.map(({ names }) => names)).toEqual([
      ["crest-out", "crest-back"],
      ["toe-out", "toe-back"],
    ]);
    expect(walkedLines(crest)).toHaveLength(1);
    expect(linesText(walkedLines(crest))).toBe("crest-out and crest-back (202 readings)");
  });

  it("leave a campaign of one line as it is", () => {
    expect(onLine(crest, null)).toBe(crest);
  });
});

describe("resistivity by depth of a campaign with a crest and a toe", () => {
  it("is that of one line alone, never an average", async () => {
    const alone = await estimateDepthSlices(crest, SPACING);
    const chosen = await estimateDepthSlices(both, { ...SPACING, line: "crest-back" });
    expect(chosen.value.log10Resistivity).toEqual(alone.value.log10Resistivity);
    expect(chosen.value.slices).toEqual(alone.value.slices);
    const other = await estimateDepthSlices(both, { ...SPACING, line: "toe-out" });
    expect(other.value.log10Resistivity).toEqual(
      (await estimateDepthSlices(toe, SPACING)).value.log10Resistivity,
    );
  });

  it("says which line is read and which are not", async () => {
    const { cautions } = await estimateDepthSlices(both, { ...SPACING, line: "crest-out" });
    expect(cautions[0]?.text).toMatch(
      /^Campaign .* holds 2 lines that lie apart: .*14 m to the (left|right)\). Only crest-out and crest-back is read here/,
    );
    expect((await estimateDepthSlices(crest, SPACING)).cautions[0]?.text).not.toContain("lines");
  });

  it("refuses a line that is not there, with those that are", async () => {
    const wrong = estimateDepthSlices(both, { ...SPACING, line: "berm" });
    await expect(wrong).rejects.toThrow(StepError);
    await expect(wrong).rejects.toThrow(/options\.line must be one of .*"crest-out".*, got "berm"/);
  });
});
