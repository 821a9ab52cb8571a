import { type Given, resultValue } from "../step/step-result.js";
import type { ResistivityLine } from "../survey/resistivity-line.js";
import type { Survey } from "../survey/survey.js";
import { invertSectionFaults } from "./check-line.js";
import { invertSectionDefaults } from "./section-options.js";

/**
 * The resistivity lines of a survey that `invertSection` takes: four placed electrodes and twenty
 * readings in use or more.
 *
 * @param survey - the survey or the result of opening it.
 * @returns the lines, in the survey's order.
 * @example invertibleLines(survey).length; // 4
 */
export function invertibleLines(survey: Given<Survey>): readonly ResistivityLine[] {
  return resultValue(survey).resistivityLines.filter(
    (line) => invertSectionFaults(line, invertSectionDefaults).length === 0,
  );
}
