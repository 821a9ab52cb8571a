import { beforeAll, describe, expect, it } from "vitest";
import { segmentBlocks } from "../../../lib/blocks/segment-blocks.js";
import { gatherFindings } from "../../../lib/chain/gather-findings.js";
import { interpret } from "../../../lib/chain/interpret.js";
import { standardChain } from "../../../lib/chain/standard-chain.js";
import type { Work } from "../../../lib/chain/work.js";
import { handOver } from "../../../lib/handover/hand-over.js";
import { scoreSeepage } from "../../../lib/seepage/score-seepage.js";
import { decide } from "../../../lib/step/decision.js";
import { StepError } from "../../../lib/step/step-error.js";
import { oneCampaign } from "../support/one-campaign.js";

const because = "a test says so";
const minLength = decide("segmentBlocks.minLength_m", 40, { because });

let work: Work;
beforeAll(async () => {
  work = (await interpret(oneCampaign(), [minLength])).value;
});

describe("the record of decisions", () => {
  it("is true of what interpret did", () => {
    expect(standardChain.check(work)).toEqual({ faults: [], notes: [] });
  });

  it("is false where a step used another value, which no appendix is written with", async () => {
    const blocks = segmentBlocks(work.slices[0]!, { minLength_m: 150 });
    const otherwise = { ...work, blocks };
    const { faults } = standardChain.check(otherwise);
    expect(faults).toEqual([
      {
        code: "decision-false",
        path: "decisions[0].value",
        expected: "what segmentBlocks used for minLength_m, 150",
        received: "40",
        hint: "the decision segmentBlocks.minLength_m is on record and the step was run otherwise",
      },
    ]);
    const findings = gatherFindings(otherwise);
    expect(findings.value.cautions).toContainEqual({
      step: "decide",
      text: "decisions[0].value must be what segmentBlocks used for minLength_m, 150, got 40.",
    });
    const writing = handOver(findings, otherwise, { folder: "/nowhere/at/all" });
    await expect(writing).rejects.toThrow(StepError);
    await expect(writing).rejects.toThrow(
      "handOver: decisions[0].value must be what segmentBlocks used for minLength_m, 150, got 40",
    );
  });

  it("is that of the later decision on an option", () => {
    const blocks = segmentBlocks(work.slices[0]!, { minLength_m: 150 });
    const decisions = [minLength, decide("segmentBlocks.minLength_m", 150, { because })];
    expect(standardChain.check({ ...work, blocks, decisions }).faults).toEqual([]);
  });

  it("holds a decision on placing against openSurvey where no cell placed anew", () => {
    const survey = { ...work.survey, used: { jitter: "keep", gpsError_m: 0.3 } };
    const opened = { ...work, survey, placed: undefined } as unknown as Work;
    const jitter = decide("placeReadings.jitter", "smooth", { because });
    const { faults } = standardChain.check({ ...opened, decisions: [jitter] });
    expect(faults.map(({ expected }) => expected)).toEqual([
      "what placeReadings used for jitter, keep",
    ]);
    expect(standardChain.check({ ...opened, decisions: [] }).notes).toContain(
      "placeReadings used jitter = keep instead of smooth, and no decision says so.",
    );
  });

  it("knows a decision that no step of the work took", () => {
    const decisions = [minLength, decide("trendOverCampaigns.q", 0.01, { because })];
    expect(standardChain.check({ ...work, decisions })).toEqual({
      faults: [],
      notes: [
        "trendOverCampaigns.q = 0.01 is on record, but trendOverCampaigns is no part of this work: nothing rests on it.",
      ],
    });
  });

  it("has no word for a proposal of its own where the step says why it gave nothing", () => {
    const survey = { ...work.survey.value, campaigns: work.survey.value.campaigns.slice(0, 1) };
    const one = {
      ...work,
      survey: { ...work.survey, value: survey },
      placed: undefined,
      changes: [],
    };
    const noted = (reason: { because: string } | { proposed: string }) =>
      standardChain.check({
        ...(one as unknown as Work),
        decisions: [minLength, decide("compareCampaigns.q", 0.05, reason)],
      }).notes;
    expect(noted({ proposed: because })).toEqual([]);
    expect(noted({ because })[0]).toContain("compareCampaigns is no part of this work");
  });

  it("knows an option that left its default without a decision", () => {
    const seepage = scoreSeepage(
      { survey: work.survey, slices: work.slices[0]!, blocks: work.blocks, changes: [] },
      { zoneFrom: 0.3 },
    );
    expect(standardChain.check({ ...work, seepage })).toEqual({
      faults: [],
      notes: ["scoreSeepage used zoneFrom = 0.3 instead of 0.5, and no decision says so."],
    });
  });

  it("holds the campaign of the blocks against what was decided of it", () => {
    const decisions = [minLength, decide("interpret.blocksFrom", "2032-03", { because })];
    const [fault] = standardChain.check({ ...work, decisions }).faults;
    expect(fault).toMatchObject({ code: "decision-false", received: "2032-03" });
  });

  it("says whose the reasons are", async () => {
    const proposed = decide("segmentBlocks.minLength_m", 40, { proposed: "Repairs are longer." });
    const findings = gatherFindings({ ...work, decisions: [proposed] });
    expect(findings.value.decisions).toEqual([
      {
        decision: "segmentBlocks.minLength_m",
        value: "40",
        because: "Repairs are longer.",
        by: "tool",
      },
    ]);
    const { tables } = await standardChain.robustness({ ...work, decisions: [proposed] });
    const table = tables.find(({ id }) => id === "decisions");
    expect(table?.caption).toContain("1 of 1 still with the reason that the tool proposes");
  });
});
