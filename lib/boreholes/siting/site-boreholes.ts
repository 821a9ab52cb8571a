import type { Blocks } from "../../blocks/blocks.js";
import type { Changes } from "../../campaigns/pair/changes.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import type { Masked } from "../../interference/masked.js";
import type { Seepage } from "../../seepage/seepage.js";
import { defineStep, runStep } from "../../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import type { Survey } from "../../survey/survey.js";
import type { Soils } from "../soils/soils.js";
import { sitingFaults, sitingReport } from "./account.js";
import type { SitingInput } from "./input.js";
import { type SitingOptions, sitingOptions } from "./options.js";
import type { BoreholePlan } from "./plan.js";
import { plannedBoreholes } from "./planned.js";

/**
 * What siting rests on, by the names that `interpret` gives its results: its value can be handed
 * over whole. What is left out is not weighed.
 */
export interface SitingEvidence {
  readonly survey: Given<Survey>;
  /** The survey with its readings placed; taken where it is there. */
  readonly placed?: Given<Survey>;
  /** The slices, or those of every campaign: then the blocks' campaign is taken, else the first. */
  readonly slices: Given<DepthSlices> | readonly Given<DepthSlices>[];
  readonly blocks?: Given<Blocks> | null;
  readonly soils?: Given<Soils> | null | undefined;
  readonly seepage?: Given<Pick<Seepage, "zones">> | null;
  readonly changes?: readonly Given<Changes>[];
  /** Campaigns with their stretches set aside. */
  readonly masked?: readonly Given<Masked>[];
}

export const sitingStep = defineStep({
  name: "siteBoreholes",
  options: sitingOptions,
  faults: sitingFaults,
  run: plannedBoreholes,
  report: sitingReport,
});

/**
 * Where to drill next, why, and how deep, under a budget of holes or metres.
 *
 * gain = Σ worth of targets that a hole meets + Σ over cells of worth × the greatest share of the
 * soil's variance that one hole tells. Targets are blocks and classes without a borehole, unsure
 * boundaries, seepage zones (half from the crest, half at the landside toe) and changes; a share is
 * the squared correlation of soil between cell and hole, by resistivity, block and distance as the
 * boreholes have it. The gain is monotone and submodular; the plan is the better of the greedy sets
 * by gain and by gain per metre. Existing boreholes count as drilled.
 *
 * @param findings - what `interpret` or the notebook holds: the survey, slices, blocks, and of
 *   soils, seepage, changes and set-aside stretches what there is.
 * @param options - see `SitingOptions`; what is left out is `sitingDefaults`.
 * @returns holes by priority, each with its purpose, its reason and how often it stays when a
 *   weight is halved or doubled; and what as many metres at equal spacing would settle. Where no
 *   place is feasible, or nothing is left to settle, there is none, and `refused` says why.
 * @throws StepError for options outside their range, all at once.
 * Limits: worths are judgements, declared as `weights`. The search keeps away from what was noted
 * or
 *   set aside; it does not know what was not.
 * Source: Nemhauser, Wolsey & Fisher 1978; Yaroslavtsev, Zhou & Avdiukhin 2020 (greedy choice);
 *   USACE EM 1110-2-1913 (spacing and depth of borings).
 * @example siteBoreholes({ survey, slices, blocks }, { holes: 3 }).value.holes.length // 3
 */
export function siteBoreholes(
  findings: SitingEvidence,
  options: Partial<SitingOptions> = {},
): StepResult<BoreholePlan> {
  return runStep(sitingStep, sitingInput(findings), options);
}

/** What siting rests on, as plain values. */
export function sitingInput(findings: SitingEvidence): SitingInput {
  const { blocks = null, soils = null, seepage = null, changes = [], masked = [] } = findings;
  const cut = blocks === null ? null : resultValue(blocks);
  return {
    survey: resultValue(findings.placed ?? findings.survey),
    slices: slicesFor(findings.slices, cut?.campaign),
    blocks: cut,
    zones: seepage === null ? [] : resultValue(seepage).zones,
    changes: changes.flatMap((pair) => resultValue(pair).changes),
    masked: masked.map((campaign) => resultValue(campaign)),
    soils: soils === null ? null : resultValue(soils),
  };
}

function slicesFor(given: SitingEvidence["slices"], campaign: string | undefined): DepthSlices {
  const all = (Array.isArray(given) ? given : [given]) as readonly Given<DepthSlices>[];
  const values = all.map((one) => resultValue(one));
  const found = values.find((one) => one.campaign === campaign) ?? values[0];
  if (found === undefined) throw new RangeError("siteBoreholes needs the slices of one campaign");
  return found;
}
