import { type Decision, decide } from "../step/decision.js";
import type { StepResult } from "../step/step-result.js";
import type { Survey } from "../survey/survey.js";
import { decidedOptions } from "./decisions/decided-options.js";
import { departures } from "./decisions/departures.js";
import { type Decided, type Link, productOf, withProduct } from "./link.js";
import { answered, carriedOut, picked, recall, sameProduct } from "./recall.js";
import type { Work } from "./work.js";

/** Runs every link in turn on a survey, under the decisions. */
export async function runLinks(
  links: readonly Link[],
  survey: StepResult<Survey>,
  decisions: readonly Decision[],
): Promise<Work> {
  let work = { survey, decisions } as unknown as Work;
  for (const link of links) {
    const decided = decidedOptions(decisions, link.step);
    const product = await carriedOut(link.run(work, decided), ({ call, args }) => call(...args));
    work = withProduct(work, link.gives, product);
  }
  return work;
}

/** Options of one step that take the place of what was decided. */
export interface Alternative {
  /** The step's public name. */
  readonly step: string;
  readonly options: Decided;
}

/** A work in which one step went another way, and the products that came out different. */
export interface Rerun {
  readonly work: Work;
  readonly changed: ReadonlySet<string>;
}

/**
 * Runs one step or several with other options, and after them every step that rests on what came
 * out different; all else is taken up again as it is. Whatever the work was made with and no decision
 * says, stays.
 */
export function rerunLinks(
  links: readonly Link[],
  made: Work,
  alternatives: readonly Alternative[],
): Promise<Rerun> {
  const before = completed(links, made);
  return rerunFromChange(links, { before, work: before, changed: new Set(), alternatives });
}

/** The same steps on another survey: calls that come out with the same input are not made again. */
export function rerunOnSurvey(
  links: readonly Link[],
  made: Work,
  survey: StepResult<Survey>,
): Promise<Rerun> {
  const before = completed(links, made);
  const { placed: _, ...rest } = before;
  const changed = new Set(["survey"]);
  const work = { ...rest, survey };
  return rerunFromChange(links, { before, work, changed, alternatives: [] });
}

interface Change {
  readonly alternatives: readonly Alternative[];
  readonly before: Work;
  /** What is different from the start. */
  readonly work: Work;
  readonly changed: Set<string>;
}

async function rerunFromChange(
  links: readonly Link[],
  { before, changed, alternatives, ...start }: Change,
): Promise<Rerun> {
  let { work } = start;
  for (const link of links) {
    const own = alternatives.filter(({ step }) => step === link.step.name);
    const carried = alternatives.filter(({ step }) =>
      link.carries?.some((one) => one.name === step),
    );
    const isAsked = own.length + carried.length > 0;
    if (!isAsked && !link.takes.some((name) => changed.has(name))) continue;
    const decided = decidedOptions(before.decisions, link.step);
    const calls = recall(link, before, decided);
    const otherOptions = Object.assign({}, ...own.map(({ options }) => options));
    const asMade = { ...departures(link, calls), ...decided, ...otherOptions };
    const given = carried.length > 0 ? { ...work, decisions: otherwise(before, carried) } : work;
    const product = await carriedOut(link.run(given, asMade), (asked) => answered(asked, calls));
    if (sameProduct(product, productOf(before, link.gives))) continue;
    changed.add(link.gives);
    work = withProduct(work, link.gives, product);
  }
  return { work, changed };
}

/** The decisions as they would read had the alternatives been taken. */
function otherwise({ decisions }: Work, alternatives: readonly Alternative[]): readonly Decision[] {
  const taken = alternatives.flatMap(({ step, options }) =>
    Object.entries(options).map(([option, value]) =>
      decide(`${step}.${option}`, value, { proposed: "the alternative that is tried" }),
    ),
  );
  const isTaken = ({ name }: Decision) => taken.some((one) => one.name === name);
  return [...decisions.filter((decision) => !isTaken(decision)), ...taken];
}

/** The work with what links only pick from it, where a notebook left that out. */
function completed(links: readonly Link[], given: Work): Work {
  let work = given;
  for (const link of links) {
    if (!link.isPick || productOf(work, link.gives) !== undefined) continue;
    work = withProduct(work, link.gives, picked(link.run(work, link.used?.(work) ?? {})));
  }
  return work;
}
