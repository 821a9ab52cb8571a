import type { SegmentBlocksOptions } from "../blocks/options.js";
import { segmentBlocks } from "../blocks/segment-blocks.js";
import { compareCampaigns } from "../campaigns/pair/compare-campaigns.js";
import type { CompareOptions } from "../campaigns/pair/options.js";
import { correctDrift } from "../drift/correct-drift.js";
import type { DriftOptions } from "../drift/options.js";
import { maskInterference } from "../interference/mask-interference.js";
import type { MaskOptions } from "../interference/options.js";
import type { SeepageOptions } from "../seepage/options.js";
import { scoreSeepage } from "../seepage/score-seepage.js";
import { setAsideTotal } from "../step/account.js";
import { type Decision, decide, decidedText } from "../step/decision.js";
import { StepResult } from "../step/step-result.js";
import { decidedOptions, targetOf } from "./decided-options.js";
import { depthEffect } from "./depth-effect.js";
import { blocksText, stretchesText } from "./effect-text.js";
import type { RobustnessFinding } from "./findings.js";
import { overCampaigns } from "./over-campaigns.js";
import type { Work } from "./work.js";

/**
 * Runs each decided step again with every named alternative and says what that would change, all
 * else as decided. An alternative of the resistivity by depth inverts all campaigns again and
 * follows it to blocks and changes.
 *
 * @param work - the results of the chain with the decisions they were made under.
 * @returns one row for each alternative of each decision.
 * @example (await tryAlternatives(work)).value[0]?.effect // such as "7 blocks become 5."
 */
export async function tryAlternatives(
  work: Work,
): Promise<StepResult<readonly RobustnessFinding[]>> {
  const rows: RobustnessFinding[] = [];
  for (const decision of work.decisions) {
    for (const alternative of decision.alternatives) {
      rows.push({
        decision: decision.name,
        chosen: decidedText(decision.value),
        alternative: decidedText(alternative),
        effect: await effectOf(work, decision, alternative),
      });
    }
  }
  const unchanged = rows.filter((row) => row.effect.startsWith("Nothing changes")).length;
  return new StepResult({
    step: "tryAlternatives",
    summary:
      rows.length === 0
        ? "No decision named an alternative."
        : `${rows.length} alternatives were tried or named; ${unchanged} of them change nothing.`,
    value: rows,
    used: {},
    basis: [
      {
        statement: "One decision is varied at a time; the others stay as decided.",
        source: "common practice",
      },
    ],
    cautions: [],
    accounting: null,
    figures: [],
    tables: [
      {
        id: "robustness",
        caption: "What would change if a decision had gone the other way",
        columns: [
          { field: "decision", label: "Decision" },
          { field: "chosen", label: "Chosen" },
          { field: "alternative", label: "Instead" },
          { field: "effect", label: "Effect" },
        ],
        rows: rows.map((row) => ({ ...row })),
      },
    ],
  });
}

const NO_TARGET = "On the record only: the decision sets no option of a step.";

function effectOf(work: Work, decision: Decision, alternative: unknown): string | Promise<string> {
  const target = targetOf(decision);
  if (target === null) return NO_TARGET;
  const options = { ...decidedOptions(work.decisions, target.step), [target.option]: alternative };
  switch (target.step) {
    case "correctDrift":
      return driftEffect(work, options);
    case "maskInterference":
      return maskEffect(work, options);
    case "estimateDepthSlices":
      return depthEffect(work, options);
    case "segmentBlocks":
      return blocksEffect(work, work.blocks.value.campaign, options);
    case "compareCampaigns":
      return changesEffect(work, options);
    case "trendOverCampaigns":
    case "responseToHead":
      return severalEffect(work, decision, alternative);
    case "scoreSeepage":
      return seepageEffect(work, options);
    case "interpret":
      return target.option === "blocksFrom"
        ? blocksEffect(work, String(alternative), decidedOptions(work.decisions, "segmentBlocks"))
        : NO_TARGET;
  }
}

function driftEffect(work: Work, options: Partial<DriftOptions>): string {
  let before = 0;
  let after = 0;
  for (const [i, campaign] of work.survey.value.campaigns.entries()) {
    const tried = correctDrift(campaign, options).value.drift;
    before += work.drift[i]!.value.drift.filter((one) => one.model !== "none").length;
    after += tried.filter((one) => one.model !== "none").length;
  }
  if (before === after) return `Nothing changes in which channels are corrected (${before}).`;
  return `${after} channels are corrected instead of ${before}.`;
}

function maskEffect(work: Work, options: Partial<MaskOptions>): string {
  const tried = work.drift.map((one) => maskInterference(one, options));
  const before = masked(work.masked);
  const after = masked(tried);
  if (before === after) return `Nothing changes: ${before}.`;
  return `${after}, instead of ${before}.`;
}

function masked(results: Work["masked"]): string {
  const stretches = results.reduce((sum, one) => sum + one.value.interference.length, 0);
  const aside = results.reduce((sum, one) => sum + setAsideTotal(one.accounting!), 0);
  const total = results.reduce((sum, one) => sum + one.accounting!.readings, 0);
  return `${stretches} stretches, ${((100 * aside) / total).toFixed(1)} % of readings set aside`;
}

function blocksEffect(
  work: Work,
  campaign: string,
  options: Partial<SegmentBlocksOptions>,
): string {
  const slices = work.slices.find((one) => one.value.campaign === campaign);
  if (slices === undefined) return `No campaign "${campaign}" to try.`;
  const before = work.blocks.value.blocks;
  const after = segmentBlocks(slices, options).value.blocks;
  return blocksText(before, after);
}

function changesEffect(work: Work, options: Partial<CompareOptions>): string {
  const tried = work.changes.map((_, i) => {
    const later = work.slices[i + 1]!;
    return compareCampaigns(work.slices[i]!, later, options).value.changes;
  });
  const before = stretchesText(work.changes.flatMap((one) => one.value.changes));
  const after = stretchesText(tried.flat());
  return before === after ? `Nothing changes: ${before}.` : `${after}, instead of ${before}.`;
}

/** Stretches of the trend or of the response to the head; the decision replaced by its alternative. */
function severalEffect(work: Work, decision: Decision, alternative: unknown): string {
  const one = (from: Pick<Work, "trend" | "head">) =>
    decision.name.startsWith("trend")
      ? from.trend?.value.trends
      : from.head?.value.stretches.filter(({ responds }) => responds);
  const before = one(work);
  if (before === undefined)
    return "Not tried: it needs three campaigns, and water levels for a head.";
  const swapped = work.decisions.map((own) =>
    own === decision ? decide(own.name, alternative, { because: own.because }) : own,
  );
  const after = one(overCampaigns(work, swapped)) ?? [];
  const [was, is] = [stretchesText(before), stretchesText(after)];
  return was === is ? `Nothing changes: ${was}.` : `${is}, instead of ${was}.`;
}

function seepageEffect(work: Work, options: Partial<SeepageOptions>): string {
  const { survey, blocks, changes } = work;
  const campaign = blocks.value.campaign;
  const slices = work.slices.find((one) => one.value.campaign === campaign) ?? work.slices[0]!;
  const tried = scoreSeepage({ survey, slices, blocks, changes }, options).value.zones;
  const text = (list: typeof tried) =>
    list.length === 0
      ? "no zone"
      : list
          .slice(0, 3)
          .map((zone) => `${zone.from_m.toFixed(0)}–${zone.to_m.toFixed(0)} m (${zone.band})`)
          .join(", ");
  const before = text(work.seepage.value.zones);
  const after = text(tried);
  return before === after
    ? `Nothing changes in the first three zones: ${before}.`
    : `First zones ${after}, instead of ${before}.`;
}
