import type { Blocks } from "../blocks/blocks.js";
import type { BoreholePlan } from "../boreholes/siting/plan.js";
import type { Soils } from "../boreholes/soils/soils.js";
import type { HeadResponse } from "../campaigns/head/head-response.js";
import type { Changes } from "../campaigns/pair/changes.js";
import type { CampaignTrend } from "../campaigns/trend/trend.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import type { DriftCorrected } from "../drift/drift.js";
import type { InterferenceAcross } from "../interference/across/stretches-across.js";
import type { Masked } from "../interference/masked.js";
import type { Section } from "../sections/section.js";
import type { Seepage } from "../seepage/seepage.js";
import type { Decision } from "../step/decision.js";
import type { StepResult } from "../step/step-result.js";
import type { Campaign, Survey, WalkedLine } from "../survey/survey.js";
import type { RobustnessFinding } from "./findings.js";

/** Every result of the chain, as a notebook or `interpret` holds them. */
export interface Work {
  readonly survey: StepResult<Survey>;
  /** The survey with its readings placed; left out where they are as `openSurvey` placed them. */
  readonly placed?: StepResult<Survey>;
  /** One a campaign, in the survey's order; so are `masked` and `slices`. */
  readonly drift: readonly StepResult<DriftCorrected>[];
  readonly masked: readonly StepResult<Masked>[];
  readonly slices: readonly StepResult<DepthSlices>[];
  /** Of `slices` those that blocks and seepage rest on; left out: those of the blocks' campaign. */
  readonly reference?: StepResult<DepthSlices>;
  readonly blocks: StepResult<Blocks>;
  /** One for each campaign and the next. */
  readonly changes: readonly StepResult<Changes>[];
  /** Disturbed stretches side by side; left out under two campaigns. */
  readonly across?: StepResult<readonly InterferenceAcross[]>;
  /** What goes one way over the campaigns; left out under three of them. */
  readonly trend?: StepResult<CampaignTrend>;
  /** What follows the water; left out under three campaigns or without water levels. */
  readonly head?: StepResult<HeadResponse>;
  /** What the lines beside the main one come to; left out where one line was walked. */
  readonly otherLines?: StepResult<readonly LineInterpretation[]>;
  /** One a resistivity line that can be inverted; left out where there is none. */
  readonly sections?: readonly StepResult<Section>[];
  readonly seepage: StepResult<Seepage>;
  /** What boreholes and slices say of the soils; left out without boreholes. */
  readonly soils?: StepResult<Soils>;
  /** Where to drill next; left out by a notebook that does not ask. */
  readonly boreholes?: StepResult<BoreholePlan>;
  readonly decisions: readonly Decision[];
  readonly robustness?: readonly RobustnessFinding[];
}

/** What one line beside the main one comes to. */
export interface LineInterpretation extends WalkedLine {
  /** The steps' results, as the chain holds them for the main line. */
  readonly work: LineWork;
  /** The slices that its blocks rest on; null where it has none. */
  readonly slices: DepthSlices | null;
  /** Why the line could not be followed to the end; null where it was. */
  readonly refused: string | null;
  /** The same results in order, with the line's name in what they say: to be shown. */
  readonly results: readonly StepResult<unknown>[];
}

/** The results of the steps that a line goes through; a line that was refused has the first ones. */
export type LineWork = Pick<Work, "survey" | "decisions"> &
  Partial<Omit<Work, "survey" | "placed" | "decisions" | "seepage" | "robustness" | "otherLines">>;

/** The survey that the steps work on. */
export function surveyOf({ survey, placed }: Pick<Work, "survey" | "placed">): StepResult<Survey> {
  return placed ?? survey;
}

/** The readings of every line as the steps left them: the main line's, then those of the others. */
export function readingsOf(work: Work): readonly Campaign[] {
  const asPlaced = (surveyOf(work).value.otherLines ?? []).map(({ survey }) => survey.campaigns);
  const others = work.otherLines?.value.map((line) => readingsOfLine(line.work)) ?? asPlaced;
  return [...work.masked.map(({ value }) => value), ...others.flat()];
}

/** A line's readings as the last step that touched them left them. */
export function readingsOfLine({ masked, drift, survey }: LineWork): readonly Campaign[] {
  return (masked ?? drift)?.map(({ value }) => value) ?? survey.value.campaigns;
}

/** The slices that blocks and seepage rest on. */
export function referenceOf({ reference, slices, blocks }: Work): StepResult<DepthSlices> {
  const campaign = blocks?.value.campaign;
  const found = reference ?? slices.find((one) => one.value.campaign === campaign) ?? slices[0];
  if (found === undefined) throw new RangeError("a work holds the slices of one campaign at least");
  return found;
}
