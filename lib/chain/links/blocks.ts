import type { Block } from "../../blocks/blocks.js";
import { blocksStep, segmentBlocks } from "../../blocks/segment-blocks.js";
import { shortBodiesText } from "../../blocks/short-bodies.js";
import { customOption } from "../../step/options/kinds.js";
import { quoted, StepError } from "../../step/step-error.js";
import { fateOf } from "../../survey/account/reading-status.js";
import type { Survey } from "../../survey/survey.js";
import { chainage, significant } from "../digits.js";
import type { BlockFinding } from "../findings.js";
import { ask, type Link } from "../link.js";
import { blocksText } from "../robustness/effect-text.js";
import { lostStretches, survival } from "../robustness/survival.js";
import { referenceOf, surveyOf, type Work } from "../work.js";
import { carriedCoils } from "./carried-coils.js";
import { unevenBlocks } from "./uneven-blocks.js";

/** Options of the chain itself, set by decisions named `interpret.…`. */
export const chainStep = {
  name: "interpret",
  options: {
    blocksFrom: customOption<string | null>({
      default: null,
      rule: "the label of a campaign, or null for the first",
      holds: (value) => value === null || typeof value === "string",
      meaning: "The campaign whose slices are cut into blocks and searched for seepage.",
    }),
  },
};

/** Picks the slices that blocks and seepage rest on. */
export const referenceLink: Link = {
  step: chainStep,
  gives: "reference",
  takes: ["slices"],
  isPick: true,
  run: function* ({ slices }, { blocksFrom }) {
    const found = slices.find(({ value }) => value.campaign === blocksFrom);
    if (found === undefined && typeof blocksFrom === "string") {
      const labels = slices.map(({ value }) => quoted(value.campaign)).join(", ");
      const expected = `one of ${labels}`;
      const path = "options.blocksFrom";
      const received = quoted(blocksFrom);
      throw new StepError("interpret", [{ code: "option-value", path, expected, received }]);
    }
    return found ?? slices[0];
  },
  used: (work) => ({ blocksFrom: work.blocks?.value.campaign ?? referenceOf(work).value.campaign }),
};

export const blocksLink: Link = {
  step: blocksStep,
  gives: "blocks",
  takes: ["survey", "placed", "reference"],
  run: (work, decided) => {
    const { boreholes } = surveyOf(work).value;
    return ask(segmentBlocks, referenceOf(work), { boreholes, ...decided });
  },
  about: ({ value }) => value.campaign,
  readiness: {
    step: "blocks",
    of: ({ campaigns }: Survey) => ({
      ready: campaigns.length > 0,
      text: campaigns.length > 0 ? "the depth slices of each campaign" : "no readings",
      cannot: "",
    }),
  },
  findings: (work) => ({
    blocks: work.blocks.value.blocks.map((block) => blockFinding(block, work)),
  }),
  unanswered: (work) => [
    ...unevenBlocks(work.blocks.value.blocks),
    ...shortOf(work.blocks),
    ...carriedCoils(referenceOf(work).value, work.blocks.value),
  ],
  effect: (before, after) => blocksText(before.blocks.value.blocks, after.blocks.value.blocks),
  names: ({ blocks }) => blocks.value.blocks.map(({ id }) => id),
  lost: (before, after) =>
    lostStretches(
      { before: before.blocks.value.blocks, after: after.blocks.value.blocks },
      ({ id }) => id,
    ),
};

/** In the words of the step's own caution. */
function shortOf({ value, used }: Work["blocks"]): readonly string[] {
  const text = shortBodiesText(value.shortBodies ?? [], Number(used.minLength_m));
  return text === null ? [] : [text];
}

function blockFinding(block: Block, work: Work): BlockFinding {
  return {
    id: block.id,
    from_m: chainage(block.from_m),
    to_m: chainage(block.to_m),
    fromInterval_m: [chainage(block.fromInterval_m[0]), chainage(block.fromInterval_m[1])],
    toInterval_m: [chainage(block.toInterval_m[0]), chainage(block.toInterval_m[1])],
    class: block.class,
    resistivity_ohm_m: block.resistivity_ohm_m.map((slice) => ({
      top_m: slice.top_m,
      base_m: slice.base_m,
      median: significant(slice.median),
      p10: significant(slice.p10),
      p90: significant(slice.p90),
    })),
    readings: readingsIn(block, work),
    masked_pct: significant(block.masked_pct),
    ...survival(work, block.id),
  };
}

/** Readings in use within a block, of the campaign that the blocks rest on. */
function readingsIn(block: Block, work: Work): number {
  const { campaign: label } = work.blocks.value;
  const campaign = work.masked.find(({ value }) => value.label === label)?.value;
  if (campaign === undefined) return 0;
  let count = 0;
  for (const [p, pass] of campaign.passes.entries()) {
    for (const [row, x] of pass.chainage_m.entries()) {
      if (!(x >= block.from_m && x < block.to_m)) continue;
      if (fateOf(campaign, p, row).fate !== "set aside") count += 1;
    }
  }
  return count;
}
