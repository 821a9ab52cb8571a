import { isDeepStrictEqual } from "node:util";
import { type Decision, decidedText } from "../../step/decision.js";
import type { Fault } from "../../step/step-error.js";
import { type Decided, type Link, resultsOf } from "../link.js";
import { recall } from "../recall.js";
import type { Work } from "../work.js";
import { decidedOptions, nameFaults, targetOf } from "./decided-options.js";
import { choices, departures } from "./departures.js";

/** The record of decisions against what the steps of a work used. */
export interface DecisionCheck {
  /** Decisions that are false on the record: the appendix is not written while there is one. */
  readonly faults: readonly Fault[];
  /** Decisions that no step took, and options that left their default without a decision. */
  readonly notes: readonly string[];
}

/** Holds every decision against what its step used, and every option against the decisions. */
export function checkDecisions(links: readonly Link[], work: Work): DecisionCheck {
  const steps = links.map(({ step }) => step);
  const named = nameFaults(work.decisions, steps);
  const notes: string[] = [];
  const faults: Fault[] = [...named];
  for (const [i, decision] of work.decisions.entries()) {
    const target = targetOf(decision, steps);
    if (target === null || named.some(({ path }) => path === `decisions[${i}].name`)) continue;
    const used = usedValues(links, work, target);
    const isLast = !work.decisions.slice(i + 1).some(({ name }) => name === decision.name);
    if (used.every((one) => one === undefined)) {
      if (!isMoot(decision, absencesOf(links, work, target.step.name))) {
        notes.push(notTaken(decision, target.step.name));
      }
    } else if (isLast) faults.push(...falseFaults(decision, `decisions[${i}].value`, used));
  }
  for (const link of links) notes.push(...undecided(link, work));
  return { faults, notes };
}

/** What each result of a step used for one option. */
function usedValues(
  links: readonly Link[],
  work: Work,
  { step, option }: NonNullable<ReturnType<typeof targetOf>>,
): readonly unknown[] {
  const own = links.filter((link) => link.step === step);
  const others = (work.otherLines?.value ?? []).map((line) => line.work as Work);
  return own.flatMap((link) => {
    if (link.used !== undefined) return [link.used(work)[option]];
    return [work, ...others].flatMap((one) => resultsOf(one, link)).map(({ used }) => used[option]);
  });
}

function falseFaults({ name, value }: Decision, path: string, used: readonly unknown[]): Fault[] {
  const other = used.find((one) => !isDeepStrictEqual(one, value));
  if (other === undefined) return [];
  const expected = `what ${name.split(".")[0]} used for ${name.split(".")[1]}, ${decidedText(other)}`;
  const hint = `the decision ${name} is on record and the step was run otherwise`;
  return [{ code: "decision-false", path, expected, received: decidedText(value), hint }];
}

function absencesOf(links: readonly Link[], work: Work, step: string): readonly string[] {
  const own = links.filter((link) => link.step.name === step);
  return own.flatMap((link) => link.absent?.(work) ?? []);
}

/** The tool's own proposal for a step that says why it gave nothing needs no second word. */
const isMoot = ({ isProposal }: Decision, absences: readonly string[]) =>
  isProposal && absences.length > 0;

function notTaken({ name, value }: Decision, step: string): string {
  return `${name} = ${decidedText(value)} is on record, but ${step} is no part of this work: nothing rests on it.`;
}

/** Options that are neither the default nor decided. */
function undecided(link: Link, work: Work): readonly string[] {
  const decided = decidedOptions(work.decisions, link.step);
  const calls = recall(link, work, decided);
  const left =
    calls.length > 0 || link.isPick ? departures(link, calls) : unlikeDefault(link, work);
  return Object.entries(left)
    .filter(([option]) => !(option in decided))
    .map(([option, value]) => {
      const standard = decidedText(link.step.options[option]?.default);
      return `${link.step.name} used ${option} = ${decidedText(value)} instead of ${standard}, and no decision says so.`;
    });
}

/** Options that are not the default, of a step whose part another step has taken. */
function unlikeDefault(link: Link, work: Work): Decided {
  const used = link.used?.(work) ?? {};
  const { options } = link.step;
  return Object.fromEntries(
    choices(link.step)
      .filter((name) => name in used && !isDeepStrictEqual(used[name], options[name]?.default))
      .map((name) => [name, used[name]]),
  );
}
