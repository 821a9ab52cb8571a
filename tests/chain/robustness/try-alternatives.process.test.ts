import { rmSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { RobustnessFinding } from "../../../lib/chain/findings.js";
import { type Interpretation, interpret } from "../../../lib/chain/interpret.js";
import { openSurvey } from "../../../lib/place/open-survey.js";
import { decide } from "../../../lib/step/decision.js";
import { StepError } from "../../../lib/step/step-error.js";
import type { StepResult } from "../../../lib/step/step-result.js";
import { oneLineDemo } from "../../support/demo-parts.js";

const because = "a test tries it";
const decisions = [
  decide("segmentBlocks.penalty", "mbic", { because, alternatives: ["mbic", 1e9] as string[] }),
  decide("maskInterference.threshold", 5, { because, alternatives: [5, 1e6] }),
  decide("estimateDepthSlices.sliceSd", 0.12, { because, alternatives: [0.12, 0.03] }),
  decide("compareCampaigns.q", 0.05, { because, alternatives: [1e-30] }),
  decide("scoreSeepage.startingProbability", 0.05, { because, alternatives: [0.05, 1e-6] }),
  decide("interpret.blocksFrom", "2031-10", { because, alternatives: ["2032-03", "1999-01"] }),
  decide("weather", "dry", { because, alternatives: ["wet"] }),
];

let result: StepResult<Interpretation>;
const folder = oneLineDemo();
beforeAll(async () => {
  result = await interpret(await openSurvey(folder), decisions);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const effect = (decision: string, alternative: string) =>
  result.value.findings.robustness.find(
    (row: RobustnessFinding) => row.decision === decision && row.alternative === alternative,
  )?.effect;

describe("the robustness table", () => {
  it("has one row for every alternative of every decision", () => {
    const named = decisions.flatMap((one) => one.alternatives.map(() => one.name));
    expect(result.value.findings.robustness.map((row) => row.decision)).toEqual(named);
  });

  it("says that nothing changes where the alternative is what was chosen", () => {
    expect(effect("segmentBlocks.penalty", "mbic")).toMatch(/^Nothing changes/);
    expect(effect("maskInterference.threshold", "5")).toMatch(/^Nothing changes/);
    expect(effect("scoreSeepage.startingProbability", "0.05")).toMatch(/^Nothing changes/);
  });

  it("says what is lost where a price or a threshold is out of reach", () => {
    const blocks = result.value.findings.blocks.length;
    expect(effect("segmentBlocks.penalty", "1000000000")).toMatch(
      new RegExp(`^Blocks: 1 blocks? instead of ${blocks}; no boundary at \\d+`),
    );
    expect(effect("maskInterference.threshold", "1000000")).toMatch(/^\d+ stretches?, \d/);
    expect(effect("compareCampaigns.q", "1e-30")).toMatch(/^Changes: no stretch, instead of \d+/);
    expect(effect("scoreSeepage.startingProbability", "0.000001")).toMatch(
      /^First seepage zones: none, instead of \d+/,
    );
  });

  it("cuts another campaign where that is the alternative, and says when there is none", () => {
    expect(effect("interpret.blocksFrom", "2032-03")).toMatch(/Blocks|seepage|Nothing/);
    expect(effect("interpret.blocksFrom", "1999-01")).toBe(
      'Cannot be tried: interpret: options.blocksFrom must be one of "2031-10", "2032-03", got "1999-01".',
    );
  });

  it("follows an alternative of the resistivity by depth to what rests on it", () => {
    expect(effect("estimateDepthSlices.sliceSd", "0.12")).toBe("Nothing changes.");
    expect(effect("estimateDepthSlices.sliceSd", "0.03")).toMatch(
      /^Soils: not predicted \(instead of: .*\)\. Boreholes: .* not proposed; instead or besides .*\.$/,
    );
  });

  it("says what it did not try", () => {
    expect(effect("weather", "wet")).toMatch(/^On the record only/);
  });
});

describe("interpret", () => {
  it("passes decided options on to their steps", () => {
    expect(result.value.blocks.used).toMatchObject({ penalty: "mbic" });
    expect(result.value.seepage.used).toMatchObject({ startingProbability: 0.05 });
  });

  it("refuses a decision on an option that no step has", async () => {
    const survey = result.value.survey;
    const typo = [decide("correctDrift.signifcance", 0.01, { because })];
    await expect(interpret(survey, typo)).rejects.toThrow(StepError);
    await expect(interpret(survey, typo)).rejects.toThrow(
      "did you mean correctDrift.significance?",
    );
  });
});
