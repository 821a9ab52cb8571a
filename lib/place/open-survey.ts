import { defineStep, runLongStep } from "../step/define-step.js";
import { type Fault, quoted, StepError } from "../step/step-error.js";
import type { StepResult } from "../step/step-result.js";
import { asStepFault } from "../survey/check/faults.js";
import { loadSurvey } from "../survey/read/load-survey.js";
import type { Survey } from "../survey/survey.js";
import { type OpenedSurvey, openReport } from "./open-account.js";
import { type OpenSurveyOptions, openSurveyOptions } from "./open-options.js";
import { placeStep } from "./place-readings.js";
import { placeSurvey } from "./place-survey.js";

export const openStep = defineStep({
  name: "openSurvey",
  options: openSurveyOptions,
  faults: folderFaults,
  run: opened,
  report: openReport,
});

/**
 * Opens a survey folder: reads the Data Package and every file in it, checks them against their
 * schemas and against each other, and gives every reading its chainage.
 *
 * Rule: chainage is the distance on the ground along the centreline to the projection of a position
 * on it; among several projections the one that continues the walk is taken. Longitudes and
 * latitudes (WGS 84) are projected in the survey's `crs`, else in the UTM zone of the centreline.
 *
 * Input: the path of a folder with a `datapackage.json`. Options: `OpenSurveyOptions`. Output: the
 * survey; campaigns sorted by first reading, readings in file order. Each reading carries the
 * standard deviation of its chainage (`positionSd_m`). Gaps in the positions are bridged by time up
 * to the stated length and flagged (`positionBridged`); readings in longer ones have NaN chainage
 * and are set aside; so is, in its channel, each value that is blank. Limits: positions more than
 * 500 m from the centreline are taken for faults.
 *
 * Throws `StepError` with every fault of every file (code, file, row, field, rule, value, hint).
 * Source: Data Package v1, Table Schema v1, RFC 7946; chainage by plane geometry.
 *
 * @example (await openSurvey("data-demo/sedgeholm")).value.embankment; // "Sedgeholm Bank"
 */
export async function openSurvey(
  folder: string,
  options: Partial<OpenSurveyOptions> = {},
): Promise<StepResult<Survey>> {
  return runLongStep(openStep, folder, options);
}

function folderFaults(folder: string): readonly Fault[] {
  if (typeof folder === "string" && folder !== "") return [];
  const expected = "the path of a survey folder";
  return [{ code: "folder", path: "folder", expected, received: quoted(folder) }];
}

async function opened(folder: string, used: OpenSurveyOptions): Promise<OpenedSurvey> {
  const { farFromCentreline_m } = used;
  const progress = used.progress ?? undefined;
  const { survey, faults, cautions, gridScale } = await loadSurvey(folder, {
    farFromCentreline_m,
    progress,
  });
  if (faults.length > 0 || survey === null) {
    throw new StepError("openSurvey", faults.map(asStepFault));
  }
  const misplaced = placeStep.faults?.({ ...survey, asRead: survey.campaigns }, used) ?? [];
  if (misplaced.length > 0) throw new StepError("openSurvey", misplaced);
  return { ...placeSurvey(survey, used), cautions, gridScale };
}
