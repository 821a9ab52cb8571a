import { beforeAll, describe, expect, it } from "vitest";
import { secondInterpretation } from "../../lib/chain/second-interpretation.js";
import { standardChain } from "../../lib/chain/standard-chain.js";
import type { Work } from "../../lib/chain/work.js";
import { hole } from "../boreholes/support/small-bank.js";
import { oneCampaign } from "./support/one-campaign.js";

let work: Work;
beforeAll(async () => {
  work = await standardChain.run(oneCampaign(), []);
});

describe("the second interpretation", () => {
  it("tells soils where there were no boreholes, and sites other ones", async () => {
    const drilled = [60, 150, 260, 350].map((x) => hole(x));
    const { value, summary } = await secondInterpretation(work, drilled);
    expect(value.work.soils?.value.boreholes.length).toBe(4);
    const claims = Object.fromEntries(value.claims.map(({ step, claim }) => [step, claim]));
    expect(claims.predictSoils).toContain("instead of: not predicted");
    expect(claims.siteBoreholes).toContain("not proposed");
    expect(summary).toContain("BH 60, BH 150, BH 260 and BH 350");
    // What does not rest on boreholes is the same object.
    expect(value.work.slices).toBe(work.slices);
    expect(work.survey.value.boreholes).toEqual([]);
  });

  it("sets a work that holds its boreholes beside the same without them", async () => {
    const drilled = [60, 150, 260, 350].map((x) => hole(x));
    const { work: after } = (await secondInterpretation(work, drilled)).value;
    const { value, figures } = await secondInterpretation(after, after.survey.value.boreholes);
    expect(value.work).toBe(after);
    expect(value.before.survey.value.boreholes).toEqual([]);
    expect(value.before.soils).toBeUndefined();
    const claims = Object.fromEntries(value.claims.map(({ step, claim }) => [step, claim]));
    expect(claims.predictSoils).toContain("instead of: not predicted");
    expect(figures.map(({ id }) => id)).toEqual(["second-interpretation"]);
  });

  it("changes nothing without new boreholes", async () => {
    expect((await secondInterpretation(work, [])).value.claims).toEqual([]);
  });
});
