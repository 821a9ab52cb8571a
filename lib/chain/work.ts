import type { Blocks } from "../blocks/blocks.js";
import type { HeadResponse } from "../campaigns/head/head-response.js";
import type { Changes } from "../campaigns/pair/changes.js";
import type { CampaignTrend } from "../campaigns/trend/trend.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import type { DriftCorrected } from "../drift/drift.js";
import type { InterferenceAcross } from "../interference/across/stretches-across.js";
import type { Masked } from "../interference/masked.js";
import type { Seepage } from "../seepage/seepage.js";
import type { Decision } from "../step/decision.js";
import type { StepResult } from "../step/step-result.js";
import type { Survey } from "../survey/survey.js";
import type { RobustnessFinding } from "./findings.js";

/** Every result of the chain, as a notebook or `interpret` holds them. */
export interface Work {
  readonly survey: StepResult<Survey>;
  /** One a campaign, in the survey's order; so are `masked` and `slices`. */
  readonly drift: readonly StepResult<DriftCorrected>[];
  readonly masked: readonly StepResult<Masked>[];
  readonly slices: readonly StepResult<DepthSlices>[];
  readonly blocks: StepResult<Blocks>;
  /** One for each campaign and the next. */
  readonly changes: readonly StepResult<Changes>[];
  /** Disturbed stretches side by side; left out under two campaigns. */
  readonly across?: StepResult<readonly InterferenceAcross[]>;
  /** What goes one way over the campaigns; left out under three of them. */
  readonly trend?: StepResult<CampaignTrend>;
  /** What follows the water; left out under three campaigns or without water levels. */
  readonly head?: StepResult<HeadResponse>;
  readonly seepage: StepResult<Seepage>;
  readonly decisions: readonly Decision[];
  readonly robustness?: readonly RobustnessFinding[];
}
