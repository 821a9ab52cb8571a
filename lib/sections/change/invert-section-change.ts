import { defineStep, runLongStep } from "../../step/define-step.js";
import { type Fault, quoted } from "../../step/step-error.js";
import type { StepResult } from "../../step/step-result.js";
import type { ResistivityLine } from "../../survey/resistivity-line.js";
import { invertSectionFaults } from "../check-line.js";
import { campaignsOf } from "../readings/of-campaign.js";
import { sectionChangeReport } from "./account.js";
import { campaignPair, invertedChange } from "./inverted-change.js";
import { type SectionChangeOptions, sectionChangeOptions } from "./options.js";
import type { SectionChange } from "./section-change.js";

export const sectionChangeStep = defineStep({
  name: "invertSectionChange",
  options: sectionChangeOptions,
  faults: changeFaults,
  run: invertedChange,
  report: sectionChangeReport,
});

/**
 * How the ground under one line changed between two campaigns, both inverted together.
 *
 * With m the mean of both sections (ln ρ) and δ their difference, the mean of two readings of one
 * spread answers to m and their difference to δ; the errors of the two are independent. m is
 * inverted as by `invertSection`, δ with its answers at m under a prior of no change: what both
 * campaigns share (positions, shape, ground that varies across the line) drops out of δ.
 *
 * @param line - a line with readings of two campaigns or more over the same electrodes.
 * @param options - see `SectionChangeOptions`; what is left out is `sectionChangeDefaults`.
 * @returns later over earlier resistivity by cell with its spread, the probability of its direction,
 *   and bodies of cells that changed, at a stated share of false ones. At field temperature:
 *   temperature is a change like any other.
 * @throws StepError for options outside their range, and for a line without two such campaigns.
 * Source: independence of mean and difference as in Gaussian sampling (Casella & Berger 2002, th.
 * 5.3.1); share of false ones by Newton, Noueiry, Sarkar & Ahlquist 2004, Biostatistics 5, 155.
 * @example
 * const again = resistivityLine.readings.map((one) => ({ ...one, campaign: "2032-03" }));
 * const both = { ...resistivityLine, readings: [...resistivityLine.readings, ...again] };
 * (await invertSectionChange(both)).value.bodies.length; // 0
 */
export function invertSectionChange(
  line: ResistivityLine,
  options: Partial<SectionChangeOptions> = {},
): Promise<StepResult<SectionChange>> {
  return runLongStep(sectionChangeStep, line, options);
}

function changeFaults(line: ResistivityLine, used: SectionChangeOptions): Fault[] {
  const faults = invertSectionFaults(line, { ...used, campaign: null });
  if (faults.length > 0) return faults;
  const labels = campaignsOf(line);
  const pair = campaignPair(line, used);
  const received = pair.map(quoted).join(" and ");
  if (pair[0] === pair[1] || !pair.every((label) => label !== null && labels.includes(label))) {
    const expected = `two campaigns of ${labels.map(quoted).join(", ")}`;
    return [{ code: "no-such-campaign", path: "options.earlier, later", expected, received }];
  }
  return pair.flatMap((campaign) => invertSectionFaults(line, { ...used, campaign }));
}
