import type { Decision } from "../step/decision.js";
import { StepError } from "../step/step-error.js";
import type { StepResult } from "../step/step-result.js";
import type { Survey } from "../survey/survey.js";
import { checkDecisions, type DecisionCheck } from "./decisions/check-decisions.js";
import { nameFaults } from "./decisions/decided-options.js";
import type { Findings, RobustnessFinding } from "./findings.js";
import { gather } from "./gather.js";
import type { Link } from "./link.js";
import { readinessOf, type StepReadiness } from "./readiness.js";
import { robustnessOf } from "./robustness/robustness.js";
import type { Robustness } from "./robustness/trials.js";
import { type Alternative, type Rerun, rerunLinks, runLinks } from "./run-links.js";
import type { Work } from "./work.js";

/** What one ordered list of links does as a whole. */
export interface Chain {
  readonly links: readonly Link[];
  /** What threads load to try alternatives of the same links. */
  readonly module?: URL | undefined;
  /** Runs every step on a survey under the decisions. */
  readonly run: (survey: StepResult<Survey>, decisions: readonly Decision[]) => Promise<Work>;
  /** Runs one step with other options and all that rests on it again; the rest stays as it is. */
  readonly rerun: (work: Work, alternative: Alternative) => Promise<Rerun>;
  /** Tries every alternative of every decision. */
  readonly robustness: (
    work: Work,
    progress?: Robustness["progress"],
  ) => Promise<StepResult<readonly RobustnessFinding[]>>;
  /** Holds the decisions against what the steps used. */
  readonly check: (work: Work) => DecisionCheck;
  readonly gather: (work: Work) => StepResult<Findings>;
  readonly readiness: (survey: Survey) => readonly StepReadiness[];
}

/**
 * A chain of links: everything that is done with all steps follows from the list. `module`: what
 * threads load to try alternatives of the same links.
 */
export function chainOf(links: readonly Link[], module?: URL): Chain {
  const steps = links.map(({ step }) => step);
  return {
    links,
    module,
    run: async (survey, decisions) => {
      const faults = nameFaults(decisions, steps);
      if (faults.length > 0) throw new StepError("interpret", faults);
      return runLinks(links, survey, decisions);
    },
    rerun: (work, alternative) => rerunLinks(links, work, [alternative]),
    robustness: (work, progress) => robustnessOf({ links, work, progress, module }),
    check: (work) => checkDecisions(links, work),
    gather: (work) => gather(links, work),
    readiness: (survey) => readinessOf(links, survey),
  };
}
