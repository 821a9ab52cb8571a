import { defineStep, runStep } from "../../step/define-step.js";
import type { StepResult } from "../../step/step-result.js";
import type { Work } from "../work.js";
import { fieldRecord } from "./field-record.js";
import { interpretation } from "./interpretation.js";
import { quality } from "./quality.js";
import type { RequirementAnswer } from "./requirement.js";

const requirements = [...fieldRecord, ...quality, ...interpretation];

const requirementsStep = defineStep({
  name: "answerRequirements",
  options: {},
  run: (work: Work): readonly RequirementAnswer[] =>
    requirements.map(({ id, asks, where, answer }) => ({ id, asks, where, ...answer(work) })),
  report: (value) => ({
    value,
    summary: summaryOf(value),
    basis: [
      {
        statement: "What the report of a survey owes its reader, merged from standards and guides.",
        source:
          "ASTM D6639-18, D6431-18, D6429-23; EN 1997-2; USACE EM 1110-2-1913; BAM " +
          "Forschungsbericht 281 (2008); Fauchard & Mériaux 2007; CIRIA C731 (2013); Singha et al. 2022",
      },
    ],
    tables: [tableOf(value)],
  }),
});

/**
 * What the report of such a survey owes its reader (R1 to R24), answered one by one from the work: what
 * the record has and where it stands, or that it is not recorded.
 *
 * @param work - the results of the steps, as the notebook or `interpret` holds them.
 * @returns one answer a requirement, in their order.
 * @example answerRequirements(work).value.length; // 24
 */
export function answerRequirements(work: Work): StepResult<readonly RequirementAnswer[]> {
  return runStep(requirementsStep, work, {});
}

function summaryOf(answers: readonly RequirementAnswer[]): string {
  const of = (state: RequirementAnswer["state"]) => answers.filter((one) => one.state === state);
  const missing = of("not recorded").map(({ id }) => id);
  const lacks = missing.length === 0 ? "" : `; not recorded: ${missing.join(", ")}`;
  return (
    `Of ${answers.length} things that a report owes its reader the record has ${of("met").length} ` +
    `and ${of("in part").length} in part${lacks}.`
  );
}

function tableOf(answers: readonly RequirementAnswer[]) {
  return {
    id: "requirements",
    caption: "What a report owes its reader, one by one",
    columns: [
      { field: "id", label: "No." },
      { field: "asks", label: "Asked for" },
      { field: "state", label: "Recorded" },
      { field: "text", label: "What the record has" },
      { field: "where", label: "Where" },
    ],
    rows: answers.map(({ id, asks, state, text, where }) => ({
      ...{ id, asks, state, text, where: where.join(", ") },
    })),
  };
}
