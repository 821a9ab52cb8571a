import { faultCount, type SurveyFault } from "../../survey/check/faults.js";
import type { StepReadiness } from "../readiness.js";
import type { ResourceSummary, SurveyCheck } from "./check-survey.js";

/** The check of a survey folder for other programs; `check.schema.json` describes it. */
export interface CheckJson {
  /** Grows by one where a field is taken away or changes its meaning; new fields leave it. */
  readonly format: 1;
  readonly survey: string;
  /** Whether the survey can be interpreted: it has no fault. */
  readonly ok: boolean;
  /** Faults listed and those that are only counted. */
  readonly faultCount: number;
  readonly faults: readonly SurveyFault[];
  readonly cautions: readonly string[];
  readonly files: readonly ResourceSummary[];
  readonly steps: readonly StepReadiness[];
}

/**
 * The check as plain JSON of a shape that stays: faults with file, row, field, rule and value,
 * cautions, files, and what each step will have to work with.
 *
 * @param check what `checkSurvey` gave
 * @param options what may be said beside
 * @param options.name the survey's name; default "survey folder"
 * @example checkJson(await checkSurvey("data-demo/sedgeholm")).ok // true
 */
export function checkJson(
  { faults, cautions, summary, steps }: SurveyCheck,
  { name = "survey folder" }: { readonly name?: string } = {},
): CheckJson {
  return {
    format: 1,
    survey: name,
    ok: faults.length === 0,
    faultCount: faultCount(faults),
    faults,
    cautions,
    files: summary,
    steps,
  };
}
