import { defineStep, runLongStep } from "../step/define-step.js";
import { listText } from "../step/list-text.js";
import { StepResult } from "../step/step-result.js";
import type { Borehole } from "../survey/survey.js";
import { rerunOnSurvey } from "./run-links.js";
import { standardLinks } from "./standard-links.js";
import type { Work } from "./work.js";

/** The work with new boreholes in the survey, and what is different, claim by claim. */
export interface SecondInterpretation {
  readonly work: Work;
  readonly claims: readonly { readonly step: string; readonly claim: string }[];
}

interface Drilled {
  readonly work: Work;
  readonly boreholes: readonly Borehole[];
}

const secondStep = defineStep({
  name: "secondInterpretation",
  options: {},
  run: interpretedAgain,
  report: (value: SecondInterpretation, _, { boreholes }: Drilled) => ({
    value,
    summary:
      `With ${listText(boreholes.map(({ borehole }) => borehole))} in the survey, ` +
      (value.claims.length === 0
        ? "nothing that is named changes."
        : `${value.claims.map(({ step }) => step).join(", ")} come to something else.`),
    basis: [
      {
        statement: "The same steps under the same decisions, once more with the boreholes drilled.",
        source: "common practice",
      },
    ],
    tables: [
      {
        id: "second-interpretation",
        caption: "What the boreholes changed",
        columns: [
          { field: "step", label: "Step" },
          { field: "claim", label: "Now, instead of before" },
        ],
        rows: value.claims.map((claim) => ({ ...claim })),
      },
    ],
  }),
});

/**
 * The interpretation after drilling: the same steps under the same decisions with the new boreholes in
 * the survey, and what came out different, claim by claim.
 *
 * @param work - the results of the chain, as a notebook or `interpret` holds them.
 * @param boreholes - those that were drilled; one with the name of an existing one takes its place.
 * @returns the work with other products where they differ, and the claims that do: soils, seepage
 *   zones, further boreholes. Steps whose input is the same are not run again.
 * @throws StepError for what any step throws.
 * Source: common practice (boreholes sited from the zones, then interpreted anew).
 * @example (await secondInterpretation(work, [])).value.claims.length // 0
 */
export function secondInterpretation(
  work: Work,
  boreholes: readonly Borehole[],
): Promise<StepResult<SecondInterpretation>> {
  return runLongStep(secondStep, { work, boreholes }, {});
}

async function interpretedAgain({ work, boreholes }: Drilled): Promise<SecondInterpretation> {
  const { survey } = work;
  const names = new Set(boreholes.map(({ borehole }) => borehole));
  const kept = survey.value.boreholes.filter(({ borehole }) => !names.has(borehole));
  const value = { ...survey.value, boreholes: [...kept, ...boreholes] };
  const again = await rerunOnSurvey(standardLinks, work, new StepResult({ ...survey, value }));
  const claims = standardLinks.flatMap(({ gives, step, effect }) => {
    const claim = again.changed.has(gives) ? (effect?.(work, again.work) ?? null) : null;
    return claim === null ? [] : [{ step: step.name, claim }];
  });
  return { work: again.work, claims };
}
