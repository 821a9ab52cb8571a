import { defineStep, runStep } from "../step/define-step.js";
import { type Fault, quoted } from "../step/step-error.js";
import { type Given, resultValue, StepResult } from "../step/step-result.js";
import type { Survey } from "../survey/survey.js";
import { placeReport } from "./account.js";
import { type PlaceOptions, placeDefaults, placeOptions } from "./options.js";
import { placeSurvey } from "./place-survey.js";

export const placeStep = defineStep({
  name: "placeReadings",
  options: placeOptions,
  faults: (survey: Survey, { passShift_m }) => [
    ...asReadFaults(survey),
    ...shiftedFilesFaults(survey, passShift_m),
  ],
  run: placeSurvey,
  report: placeReport,
});

/**
 * Gives every reading its place along the bank: chainage, offset and their uncertainty.
 *
 * Rule: positions are smoothed as those of a walker and projected on the centreline; among several
 * projections the one that continues the walk is taken. Gaps are bridged by time up to a stated
 * length; the readings' lag and the antenna's place before the coils are taken out; passes of one
 * campaign that lie apart by what they read are co-registered; chainages are checked against pegs
 * or brought to them; readings made while standing still are averaged.
 *
 * `survey`: what `openSurvey` returned, which places by the same options; its readings are placed
 * anew from what the files hold. Options: `PlaceOptions`; what is left out is as in `openSurvey`,
 * else `placeDefaults`. Output: the survey with its campaigns placed; each reading carries the
 * standard deviation of its chainage (`positionSd_m`). Bridged positions are flagged; readings in
 * longer gaps have NaN chainage and are set aside, and so is, in its channel, each blank value.
 * Limits: which of two passes that lie apart is right stays unknown; both move to their middle.
 * Throws StepError with every fault of the options, and for a survey that was never read. Source:
 * Rauch, Tung & Striebel 1965 (smoother); Viterbi 1967 (continuing projection).
 *
 * @example placeReadings(survey, { passShift_m: "check" }).value.campaigns.length; // 2
 */
export function placeReadings(
  survey: Given<Survey>,
  options: Partial<PlaceOptions> = {},
): StepResult<Survey> {
  const opened = survey instanceof StepResult ? survey.used : {};
  return runStep(placeStep, resultValue(survey), { ...placingOf(opened), ...options });
}

/** Of the options of `openSurvey`, those of placing. */
export function placingOf(used: Readonly<Record<string, unknown>>): Partial<PlaceOptions> {
  const named = Object.entries(used).filter(([name]) => name in placeDefaults);
  return Object.fromEntries(named) as Partial<PlaceOptions>;
}

function asReadFaults({ asRead, campaigns }: Survey): readonly Fault[] {
  if (asRead !== undefined || campaigns.length === 0) return [];
  const expected = "a survey as openSurvey gives it, with its readings as they were read";
  return [{ code: "not-read", path: "survey", expected, received: "readings without their files" }];
}

/** A given shift must be of a file that the survey has. */
function shiftedFilesFaults(
  { campaigns }: Survey,
  passShift_m: PlaceOptions["passShift_m"],
): readonly Fault[] {
  if (typeof passShift_m !== "object") return [];
  const files = campaigns.flatMap(({ passes }) => passes.map(({ file }) => file));
  const expected = `metres by file, of ${files.join(", ")}`;
  const path = "options.passShift_m";
  return Object.keys(passShift_m)
    .filter((file) => !files.includes(file))
    .map((file) => ({ code: "option-range", path, expected, received: quoted(file) }));
}
