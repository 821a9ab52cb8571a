import type { Survey } from "../survey/survey.js";
import type { Link, Readiness } from "./link.js";

/** What one step will have to work with. */
export interface StepReadiness extends Readiness {
  /** The step's short name, such as "drift". */
  readonly step: string;
}

/** What each step will have to work with, or why it has nothing. */
export function readinessOf(links: readonly Link[], survey: Survey): readonly StepReadiness[] {
  return links.flatMap(({ readiness }) =>
    readiness === undefined ? [] : [{ step: readiness.step, ...readiness.of(survey) }],
  );
}
