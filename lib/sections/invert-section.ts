import { defineStep, runLongStep } from "../step/define-step.js";
import type { StepResult } from "../step/step-result.js";
import type { ResistivityLine } from "../survey/resistivity-line.js";
import { sectionReport } from "./account.js";
import { invertSectionFaults } from "./check-line.js";
import type { Section } from "./section.js";
import { type InvertSectionOptions, invertSectionOptions } from "./section-options.js";
import { sectionInThread } from "./section-thread.js";

export const sectionStep = defineStep({
  name: "invertSection",
  options: invertSectionOptions,
  faults: invertSectionFaults,
  run: sectionInThread,
  report: sectionReport,
});

/**
 * The resistivity section under one line of electrodes, with its uncertainty cell by cell.
 *
 * Readings are set aside by rule; their errors follow from stacking, repeats and reciprocals. ln ρ
 * of the cells has differences between neighbours that are normal (or t-distributed) with unknown
 * strengths along and across layers. Steps of Gauss and Newton with the 2.5-D forward model of
 * `sectionResponse`, Jacobian by reciprocity from the same factorisation; strengths and noise are
 * sampled with the section in each (Gibbs), and at the end the posterior is drawn.
 *
 * @param line - electrodes by number with positions and elevations, readings with current and
 *   voltage; electrodes may come in any order. Readings that are missing or bad are set aside.
 * @param options - see `InvertSectionOptions`; what is left out is `invertSectionDefaults`.
 * @returns cells with log10 of ohm-m at field temperature, standard deviation, quantiles, draws
 *   and whether they are reliable; every reading with its residual or its cause.
 * @throws StepError for options outside their range, and for a line with too few readings.
 * Limits: ground that does not vary across the line but for the embankment's shape, which is
 * divided out as if the embankment were of one resistivity; water (`waterBeside`) of one
 * resistivity, still, endless beyond its near bank; the posterior is that of the linear
 * form about the last section.
 * Source: Dey & Morrison 1979 (forward); McGillivray & Oldenburg 1990 (reciprocity); Rue & Held
 * 2005 (Gaussian Markov random fields, Gibbs sampler); Oldenburg & Li 1999 (depth of
 * investigation).
 * @example (await invertSection(resistivityLine)).value.reliableTo_m // such as 4.2
 */
export function invertSection(
  line: ResistivityLine,
  options: Partial<InvertSectionOptions> = {},
): Promise<StepResult<Section>> {
  return runLongStep(sectionStep, line, options);
}
