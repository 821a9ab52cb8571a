import { describe, expect, it } from "vitest";
import { compareCampaigns } from "../../../../lib/campaigns/pair/compare-campaigns.js";
import type { DepthSlices } from "../../../../lib/depth/depth-slices.js";
import { estimateDepthSlices } from "../../../../lib/depth/estimate-depth-slices.js";
import { makeSurvey, type SurveyPlan } from "../../../abroad/survey.js";
import { campaignsOf } from "../../../abroad/written/in-memory.js";
import { expectDraws, expectValidSpec } from "../../../figures/support/check-spec.js";

const CHANGE = { from_m: 70, to_m: 130, top_m: 0.4, base_m: 2, factor: 0.6 };
const PLAN: SurveyPlan = {
  seed: 41,
  ground: "gradational",
  instrument: "three separations HCP",
  length_m: 240,
  campaigns: 2,
};

async function pairOf(more: Partial<SurveyPlan>): Promise<[DepthSlices, DepthSlices]> {
  const [one, other] = campaignsOf(makeSurvey({ ...PLAN, ...more }));
  const earlier = (await estimateDepthSlices(one!)).value;
  return [earlier, (await estimateDepthSlices(other!, { slices: earlier.slices })).value];
}

/** Two campaigns with the change between them, estimated once. */
const changed = pairOf({ changes: [CHANGE] });

describe("compareCampaigns by channels", () => {
  it("finds a change, its depths and its size, and says what it compared", async () => {
    const result = compareCampaigns(...(await changed));
    const { by, changes } = result.value;
    expect(by).toBe("channels");
    expect(changes.length).toBe(1);
    const [one] = changes;
    // Half a spacing, and noise of ends: a few stations of 2 m.
    expect(Math.abs(one!.from_m - CHANGE.from_m)).toBeLessThan(6);
    expect(Math.abs(one!.to_m - CHANGE.to_m)).toBeLessThan(6);
    expect(one!.direction).toBe("fell");
    expect(one!.q).toBeLessThan(1e-6);
    expect(one!.ratioInterval![0]).toBeLessThan(CHANGE.factor + 0.15);
    expect(
      result.cautions.some(({ text }) => /common to the line was removed from each/.test(text)),
    ).toBe(true);
    const [figure] = result.figures;
    expectValidSpec(figure!.spec);
    await expectDraws(figure!.spec);
  });

  it("compares what is shared, and says how much", async () => {
    const [earlier, later] = await changed;
    const fewer = { ...later, readings: later.readings!.slice(0, 4) };
    const result = compareCampaigns(earlier, fewer);
    expect(result.value.by).toBe("channels");
    expect(result.cautions.some(({ text }) => /share 4 of the earlier one's 6/.test(text))).toBe(
      true,
    );
    expect(result.value.changes.map(({ direction }) => direction)).toEqual(["fell"]);
  });

  it("changes nothing that it was given, and gives the same twice", async () => {
    const pair = await changed;
    const before = structuredClone(pair);
    const first = compareCampaigns(...pair).value;
    expect(pair).toEqual(before);
    expect(compareCampaigns(...pair).value).toEqual(first);
  });
});
