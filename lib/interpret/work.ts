import type { Blocks } from "../blocks/blocks.js";
import type { Changes } from "../campaigns/changes.js";
import type { DepthSlices } from "../depth/depth-slices.js";
import type { DriftCorrected } from "../drift/drift.js";
import type { Masked } from "../interference/masked.js";
import type { Decision } from "../result/decision.js";
import type { StepResult } from "../result/step-result.js";
import type { Seepage } from "../seepage/seepage.js";
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
  readonly seepage: StepResult<Seepage>;
  readonly decisions: readonly Decision[];
  readonly robustness?: readonly RobustnessFinding[];
}
