import { beforeAll, describe, expect, it } from "vitest";
import { standardChain } from "../../../lib/chain/standard-chain.js";
import type { Work } from "../../../lib/chain/work.js";
import { decide } from "../../../lib/step/decision.js";
import { oneCampaign } from "../support/one-campaign.js";

describe("boreholes in the chain", () => {
  let work: Work;
  beforeAll(async () => {
    const holes = decide("siteBoreholes.holes", 2, { because: "a test", alternatives: [1] });
    const made = await standardChain.run(oneCampaign(), [holes]);
    work = { ...made, robustness: (await standardChain.robustness(made)).value };
  });

  it("follow their decision, and findings mark those that an alternative loses", () => {
    const { boreholes, robustness } = standardChain.gather(work).value;
    expect(boreholes.length).toBe(2);
    expect(robustness[0]?.lost).toEqual(["P2"]);
    expect(boreholes.map(({ lostUnder }) => lostUnder)).toEqual([[], ["siteBoreholes.holes = 1"]]);
  });

  it("are sited without boreholes, and it is said that no soil is told", () => {
    expect(work.soils).toBeUndefined();
    const texts = standardChain.gather(work).value.cautions.map(({ text }) => text);
    expect(texts).toContain("No boreholes: soils along the bank are not told.");
  });
});
