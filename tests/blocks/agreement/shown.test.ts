// The comparison of two cuts as a step: what it takes, and how it shows itself.
import { describe, expect, it } from "vitest";
import { compareSegmentations } from "../../../lib/blocks/agreement/compare-segmentations.js";
import type { Blocks } from "../../../lib/blocks/blocks.js";
import { StepResult } from "../../../lib/step/step-result.js";
import { expectDraws, expectValidSpec } from "../../figures/support/check-spec.js";

const stretch = (from_m: number, to_m: number, name: string) => ({ from_m, to_m, class: name });
const one = [stretch(0, 100, "A"), stretch(100, 240, "B"), stretch(240, 400, "A")];
const other = [stretch(0, 104, "clay"), stretch(104, 300, "sand"), stretch(300, 400, "peat")];
const compared = compareSegmentations(one, other);

describe("the agreement of two cuts", () => {
  it("takes what segmentBlocks gives, and its value, as it takes stretches", () => {
    const blocks = { campaign: "2031-10", blocks: one } as unknown as Blocks;
    const words = { step: "segmentBlocks", summary: "", used: {}, basis: [], cautions: [] };
    const result = new StepResult({
      ...{ ...words, accounting: null, figures: [], tables: [] },
      value: blocks,
    });
    expect(compareSegmentations(result, other).value).toEqual(compared.value);
    expect(compareSegmentations(blocks, other).value).toEqual(compared.value);
  });

  it("says in a sentence what agrees, and sets boundaries and classes side by side", () => {
    // 100 with 104; by length A with clay (100 m) and B with sand (136 m) beats A with peat.
    expect(compared.summary).toMatch(
      /^1 boundary agrees, of 2 and 2; classes agree on 59 % of the length, kappa 0\.\d\d\.$/,
    );
    const [boundaries, classes] = compared.tables;
    expect(boundaries!.rows).toEqual([
      { one_m: 100, other_m: 104, apart_m: 4 },
      { one_m: 240, other_m: null, apart_m: null },
      { one_m: null, other_m: 300, apart_m: null },
    ]);
    expect(classes!.rows).toEqual([
      { one: "A", other: "clay", shared_m: 100 },
      { one: "B", other: "sand", shared_m: 136 },
    ]);
  });

  it("draws both cuts, without a warning", async () => {
    const { spec } = compared.figures[0]!;
    expectValidSpec(spec);
    const svg = await expectDraws(spec);
    for (const word of ["clay", "sand", "peat", "not in the one"]) expect(svg).toContain(word);
  });
});
