import { defineStep, runLongStep } from "../step/define-step.js";
import { listText } from "../step/list-text.js";
import { StepResult } from "../step/step-result.js";
import type { Borehole } from "../survey/survey.js";
import { rerunOnSurvey } from "./run-links.js";
import { secondFigures } from "./second-figures.js";
import { standardLinks } from "./standard-links.js";
import type { Work } from "./work.js";

/** The work with new boreholes in the survey, and what is different, claim by claim. */
export interface SecondInterpretation {
  readonly work: Work;
  /** The same without these boreholes. */
  readonly before: Work;
  readonly claims: readonly { readonly step: string; readonly claim: string }[];
}

/** The work, and the boreholes that were drilled after it or that it already holds. */
export interface Drilled {
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
        statement: "The same steps under the same decisions, with the boreholes and without them.",
        source: "common practice",
      },
    ],
    figures: secondFigures(value, boreholes),
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
 * The interpretation after drilling: the same steps under the same decisions with the new
 * boreholes in the survey, and what came out different, claim by claim.
 *
 * @param work - the results of the chain, as a notebook or `interpret` holds them.
 * @param boreholes - those that were drilled; one with the name of an existing one takes its place.
 *   Where all of them are the survey's own, the work is set beside what it would be without them.
 * @returns the work with these boreholes and without, and the claims that differ: soils, seepage
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
  const own = work.survey.value.boreholes;
  const names = new Set(boreholes.map(({ borehole }) => borehole));
  const kept = own.filter(({ borehole }) => !names.has(borehole));
  const areOwn = boreholes.length > 0 && boreholes.every((one) => own.includes(one));
  const drilled = areOwn ? kept : [...kept, ...boreholes];
  const other = await rerunOnSurvey(standardLinks, work, withBoreholes(work, drilled));
  const [before, after] = areOwn ? [other.work, work] : [work, other.work];
  const claims = standardLinks.flatMap(({ gives, step, effect }) => {
    const claim = other.changed.has(gives) ? (effect?.(before, after) ?? null) : null;
    return claim === null ? [] : [{ step: step.name, claim }];
  });
  return { work: after, before, claims };
}

function withBoreholes({ survey }: Work, boreholes: readonly Borehole[]): Work["survey"] {
  return new StepResult({ ...survey, value: { ...survey.value, boreholes } });
}
