// A step that does not exist is put into the list: everything that is done with all steps knows it.
import { beforeAll, describe, expect, it } from "vitest";
import { chainOf } from "../../lib/chain/chain-of.js";
import { ask, type Link } from "../../lib/chain/link.js";
import { standardLinks } from "../../lib/chain/standard-links.js";
import type { Work } from "../../lib/chain/work.js";
import { decide } from "../../lib/step/decision.js";
import { defineStep, runStep } from "../../lib/step/define-step.js";
import { numberOption } from "../../lib/step/options/number.js";
import type { StepResult } from "../../lib/step/step-result.js";
import { oneCampaign } from "./support/one-campaign.js";

const spotsStep = defineStep({
  name: "findWetSpots",
  options: {
    wet_ohm_m: numberOption({ default: 20, above: 0, unit: "ohm-m", meaning: "Wet below this." }),
  },
  run: (medians: readonly number[], used) => medians.filter((median) => median < used.wet_ohm_m),
  report: (value) => ({
    value,
    summary: `${value.length} blocks are wet.`,
    cautions: ["Wet is a word for a number here."],
  }),
});

function findWetSpots(medians: readonly number[], options: { readonly wet_ohm_m?: number } = {}) {
  return runStep(spotsStep, medians, options);
}

const spotsOf = (work: Work) =>
  (work as unknown as { readonly spots: StepResult<readonly number[]> }).spots;

const spotsLink: Link = {
  step: spotsStep,
  gives: "spots",
  takes: ["blocks"],
  run: ({ blocks }, decided) => {
    const medians = blocks.value.blocks.flatMap(
      ({ resistivity_ohm_m }) => resistivity_ohm_m[0]?.median ?? [],
    );
    return ask(findWetSpots, medians, decided);
  },
  readiness: { step: "wet spots", of: () => ({ ready: true, text: "the blocks", cannot: "" }) },
  findings: (work) => ({ wetSpots: spotsOf(work).value.length }),
  effect: (before, after) =>
    `${spotsOf(after).value.length} wet spots instead of ${spotsOf(before).value.length}.`,
};

const chain = chainOf([...standardLinks, spotsLink]);
const because = "a test says so";
const decisions = [
  decide("findWetSpots.wet_ohm_m", 1, { because, alternatives: [1000] }),
  decide("segmentBlocks.minLength_m", 40, { because, alternatives: [40] }),
];

let work: Work;
beforeAll(async () => {
  work = await chain.run(oneCampaign(), decisions);
});

describe("an invented step in the list", () => {
  it("is run under its decision", () => {
    expect(spotsOf(work).used).toEqual({ wet_ohm_m: 1 });
    expect(spotsOf(work).value).toEqual([]);
  });

  it("is told of in readiness, last as it stands", () => {
    expect(chain.readiness(work.survey.value).at(-1)).toEqual({
      step: "wet spots",
      ready: true,
      text: "the blocks",
      cannot: "",
    });
  });

  it("adds to the findings and their cautions", () => {
    const findings = chain.gather(work).value;
    expect(findings).toMatchObject({ wetSpots: 0 });
    expect(findings.cautions).toContainEqual({
      step: "findWetSpots",
      text: "Wet is a word for a number here.",
    });
  });

  it("can be decided, and a misspelt option of it is guessed at", async () => {
    const typo = [decide("findWetSpots.wet_ohm", 20, { because })];
    await expect(chain.run(work.survey, typo)).rejects.toThrow(
      "did you mean findWetSpots.wet_ohm_m?",
    );
    const otherwise = { ...work, spots: findWetSpots([5], { wet_ohm_m: 7 }) };
    expect(chain.check(otherwise).faults[0]?.expected).toContain(
      "findWetSpots used for wet_ohm_m, 7",
    );
  });

  it("is varied like the rest", async () => {
    const blocks = work.blocks.value.blocks.length;
    const [own, none] = (await chain.robustness(work)).value;
    expect(own?.effect).toBe(`${blocks} wet spots instead of 0.`);
    expect(none?.effect).toBe("Nothing changes.");
  });

  it("is run again after a step that it rests on, and not otherwise", async () => {
    const fewer = { step: "segmentBlocks", options: { penalty: 1e9 } };
    const rerun = await chain.rerun(work, fewer);
    expect(rerun.changed.has("blocks")).toBe(true);
    expect(rerun.work.slices).toBe(work.slices);
    const seepage = await chain.rerun(work, { step: "scoreSeepage", options: { zoneFrom: 0.9 } });
    expect(spotsOf(seepage.work)).toBe(spotsOf(work));
  });
});
