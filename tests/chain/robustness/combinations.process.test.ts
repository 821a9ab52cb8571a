import { beforeAll, describe, expect, it } from "vitest";
import { tryCombinations } from "../../../lib/chain/robustness/try-combinations.js";
import { rerunLinks } from "../../../lib/chain/run-links.js";
import { standardChain } from "../../../lib/chain/standard-chain.js";
import type { Work } from "../../../lib/chain/work.js";
import { decide } from "../../../lib/step/decision.js";
import { oneCampaign } from "../support/one-campaign.js";

describe("combinations of alternatives", () => {
  const because = "a test tries it";
  const decisions = [
    decide("segmentBlocks.minLength_m", 40, { because, alternatives: [60, 1e4] }),
    decide("siteBoreholes.holes", 2, { because, alternatives: [1] }),
    decide("weather", "dry", { because, alternatives: ["wet"] }),
  ];
  let work: Work;
  beforeAll(async () => {
    work = await standardChain.run(oneCampaign(), decisions);
  });

  it("are distinct, of two decisions or more that set an option, and the seed's own", async () => {
    const { value } = await tryCombinations(work, { count: 50, seed: 7 });
    expect(value.combinations.map(({ taken }) => taken.join()).sort()).toEqual([
      "segmentBlocks.minLength_m = 10000,siteBoreholes.holes = 1",
      "segmentBlocks.minLength_m = 60,siteBoreholes.holes = 1",
    ]);
    const one = await tryCombinations(work, { count: 1, seed: 7 });
    expect(one.value.combinations).toEqual(value.combinations.slice(0, 1));
  });

  it("take all their alternatives together, and count the findings that stay", async () => {
    const { value, summary } = await tryCombinations(work, { count: 50 });
    const both = await rerunLinks(standardChain.links, work, [
      { step: "segmentBlocks", options: { minLength_m: 1e4 } },
      { step: "siteBoreholes", options: { holes: 1 } },
    ]);
    expect(both.work.blocks.used).toMatchObject({ minLength_m: 1e4 });
    expect(both.work.boreholes?.used).toMatchObject({ holes: 1 });
    const kept = Object.fromEntries(value.findings.map((one) => [one.finding, one.kept]));
    const blocks = work.blocks.value.blocks.map(({ id }) => id);
    expect(blocks.length).toBeGreaterThan(1);
    for (const id of blocks) expect(kept[id], id).toBe(1);
    expect(kept.P2).toBe(0);
    expect(value.followed).toBe(2);
    expect(summary).toMatch(/^2 combinations of alternatives tried: \d+ of \d+ findings are made/);
  });

  it("are none where none is asked for or one decision alone has alternatives", async () => {
    const none = await tryCombinations(work, { count: 0 });
    expect(none.value.combinations).toEqual([]);
    expect(none.summary).toBe("No combination of alternatives was tried.");
    const single = { ...work, decisions: decisions.slice(1) };
    expect((await tryCombinations(single)).value.combinations).toEqual([]);
  });
});
