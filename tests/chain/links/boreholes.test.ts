import { beforeAll, describe, expect, it } from "vitest";
import type { BoreholePlan, ProposedBorehole } from "../../../lib/boreholes/siting/plan.js";
import { boreholesLink } from "../../../lib/chain/links/boreholes.js";
import { standardChain } from "../../../lib/chain/standard-chain.js";
import type { Work } from "../../../lib/chain/work.js";
import { decide } from "../../../lib/step/decision.js";
import { oneCampaign } from "../support/one-campaign.js";

const hole = (id: string, chainage_m: number): ProposedBorehole => ({
  ...{ id, chainage_m, offset_m: 0, place: "crest", depth_m: 7, purpose: "", reason: "" },
  ...{ priority: 1, adds_m: 10, keptIn: 9, plansTried: 12 },
});
const workOf = (...holes: readonly ProposedBorehole[]) =>
  ({ boreholes: { value: { holes } as unknown as BoreholePlan } }) as unknown as Work;

describe("boreholes under an alternative", () => {
  const before = workOf(hole("P1", 100), hole("P2", 300));
  const after = workOf(hole("P1", 120), hole("P2", 500));

  it("are the same within 30 m, and lost beyond", () => {
    expect(boreholesLink.lost?.(before, after)).toEqual(["P2"]);
    expect(boreholesLink.effect?.(before, after)).toBe(
      "Boreholes: P2 not proposed; instead or besides 500 m.",
    );
    expect(boreholesLink.effect?.(before, before)).toBeNull();
  });
});

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
