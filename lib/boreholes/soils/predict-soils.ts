import type { Blocks } from "../../blocks/blocks.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import { defineStep, runStep } from "../../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import type { Survey } from "../../survey/survey.js";
import { soilsReport } from "./account.js";
import { type SoilsOptions, soilsOptions } from "./options.js";
import { predictedSoils } from "./predicted.js";
import type { Soils } from "./soils.js";

/** What soils are told from. Without blocks, a block says nothing of likeness. */
export interface SoilsEvidence {
  readonly survey: Given<Survey>;
  readonly slices: Given<DepthSlices>;
  readonly blocks?: Given<Blocks> | null;
}

export const soilsStep = defineStep({
  name: "predictSoils",
  options: soilsOptions,
  run: predictedSoils,
  report: soilsReport,
});

/**
 * Fines, water content and kind of soil along the bank, from the boreholes and the slices beside
 * them.
 *
 * property = level + slope · log10 ρ + GP, on log-odds of fines, the logarithm of water content and
 * the share of each principal fraction. The GP's covariance has four parts: like resistivity, same
 * block, nearness along chainage, the place's own. Shares, range and variance are weighed by their
 * marginal likelihood over a bounded set; the slices' errors widen what is told (Berkson: they are
 * posterior means). A laboratory value of a slice is the mean of its strata's samples by thickness;
 * resistivities are taken at 25 °C where soil temperatures are known.
 *
 * @param evidence - the survey with its boreholes, slices (log10 ohm-m by station), and blocks.
 * @param options - see `SoilsOptions`; what is left out is `soilsDefaults`.
 * @returns for each reliable slice, 10, 50 and 90 % of what a sample there would give, %, and the
 *   probability of each kind of soil that a borehole met; NaN where a slice has no estimate. Under
 *   three boreholes beside an estimate nothing is predicted, and `refused` says so.
 * @throws StepError for options outside their range, all at once.
 * Limits: it holds for this bank and this season's water. Soil that no borehole met is not
 * foreseen. Source: Rasmussen & Williams 2006 (chapters 2 and 5); Berkson 1950 (errors of the
 * slices);
 *   Journel 1983 (indicators); ISO 14688-1 (letters of soils).
 * @example predictSoils({ survey, slices, blocks }).value.boreholes.length // 6
 */
export function predictSoils(
  evidence: SoilsEvidence,
  options: Partial<SoilsOptions> = {},
): StepResult<Soils> {
  const { blocks = null } = evidence;
  const input = {
    survey: resultValue(evidence.survey),
    slices: resultValue(evidence.slices),
    blocks: blocks === null ? null : resultValue(blocks),
  };
  return runStep(soilsStep, input, options);
}
