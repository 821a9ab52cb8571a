import type { Decision } from "../../step/decision.js";
import { defineStep, runLongStep } from "../../step/define-step.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import type { Survey } from "../../survey/survey.js";
import type { LineInterpretation } from "../work.js";
import { otherLinesReport } from "./account.js";
import { interpretLine, type OtherLines } from "./interpret-line.js";

export const otherLinesStep = defineStep({
  name: "interpretOtherLines",
  options: {},
  run: interpreted,
  report: otherLinesReport,
});

/**
 * Takes every walked line beside the main one through the steps from drift to change, under the same
 * decisions, as if it had been walked alone.
 *
 * @param survey - what `placeReadings` returned; its `otherLines` are read.
 * @param decisions - what `decide` returned; names of the form `step.option` set that option.
 * @returns one entry a line, each with the results of its steps; empty where one line was walked. A
 *   line that a step refuses is followed as far as it went, and why is said.
 * @throws TypeError and the like for faults of the program only.
 * @example (await interpretOtherLines(survey, [])).value.length; // 0
 */
export function interpretOtherLines(
  survey: Given<Survey>,
  decisions: readonly Decision[] = [],
): Promise<StepResult<readonly LineInterpretation[]>> {
  return runLongStep(otherLinesStep, { survey: resultValue(survey), decisions }, {});
}

async function interpreted({ survey, decisions }: OtherLines): Promise<LineInterpretation[]> {
  const lines: LineInterpretation[] = [];
  for (const other of survey.otherLines ?? []) lines.push(await interpretLine(other, decisions));
  return lines;
}
