import type { Decision } from "../../step/decision.js";
import { StepError } from "../../step/step-error.js";
import { StepResult } from "../../step/step-result.js";
import type { OtherLine, Survey } from "../../survey/survey.js";
import { decidedOptions } from "../decisions/decided-options.js";
import { lineLinks } from "../line-links.js";
import { resultsOf, withProduct } from "../link.js";
import { carriedOut } from "../recall.js";
import type { LineInterpretation, LineWork, Work } from "../work.js";
import { withLineName } from "./named-result.js";

/** The lines to be interpreted, and the decisions they are interpreted under. */
export interface OtherLines {
  readonly survey: Survey;
  readonly decisions: readonly Decision[];
}

/** Takes one line through the steps; where a step refuses it, as far as it went. */
export async function interpretLine(
  { line, offset_m, survey }: OtherLine,
  decisions: readonly Decision[],
): Promise<LineInterpretation> {
  const own = decisions.filter((decision) => isOfLine(decision, survey.campaigns));
  let work = { survey: surveyResult(survey, line), decisions: own } as unknown as Work;
  let refused: string | null = null;
  try {
    for (const link of lineLinks) {
      const asking = link.run(work, decidedOptions(own, link.step));
      const product = await carriedOut(asking, ({ call, args }) => call(...args));
      work = withProduct(work, link.gives, product);
    }
  } catch (error) {
    if (!(error instanceof StepError)) throw error;
    refused = error.message;
  }
  const results = lineResults(work).map((result) => withLineName(result, line));
  const slices = work.reference?.value ?? null;
  return { line, offset_m, work, slices, refused, results };
}

/** A campaign that blocks are to be cut from may not have walked this line. */
function isOfLine(
  { name, value }: Decision,
  campaigns: readonly { readonly label: string }[],
): boolean {
  return name !== "interpret.blocksFrom" || campaigns.some(({ label }) => label === value);
}

/** The line's readings stand placed: a survey that no step has to open. */
function surveyResult(survey: OtherLine["survey"], line: string): Work["survey"] {
  return new StepResult({
    step: "placeReadings",
    summary: `The readings of ${line}, placed as if it had been walked alone.`,
    value: survey,
    used: {},
    basis: [],
    cautions: [],
    accounting: null,
    figures: [],
    tables: [],
  });
}

/** The results of a line in the order of the work. */
export function lineResults(work: LineWork): readonly StepResult<unknown>[] {
  const steps = lineLinks.filter(({ isPick }) => !isPick);
  return steps.flatMap((link) => resultsOf(work as Work, link));
}
