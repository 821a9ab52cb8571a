import type { Tell } from "../heard-progress.js";
import { type Fault, quoted } from "../step-error.js";
import {
  declared,
  type Option,
  type OptionSpecs,
  type OptionsOf,
  type OptionWords,
} from "./option.js";
import { unknownNames, valueFault, wordFault } from "./option-fault.js";
import { defaultsOf } from "./resolve.js";

/** One of some words. */
export function choiceOption<const Word extends string>(
  choices: readonly Word[],
  words: OptionWords<NoInfer<Word>>,
): Option<Word> {
  const rule = `one of ${choices.map(quoted).join(", ")}`;
  return declared<Word>(words, rule, (value, path) =>
    choices.includes(value as Word)
      ? []
      : [wordFault(valueFault(value, path, rule), value, choices)],
  );
}

/** Yes or no. */
export function flagOption(words: OptionWords<boolean>): Option<boolean> {
  const rule = "true or false";
  return declared(words, rule, (value, path) =>
    typeof value === "boolean" ? [] : [valueFault(value, path, rule)],
  );
}

/** A text that is not blank. */
export function textOption(words: OptionWords<string>): Option<string> {
  const rule = "a text that is not blank";
  return declared(words, rule, (value, path) =>
    typeof value === "string" && value.trim() !== "" ? [] : [valueFault(value, path, rule)],
  );
}

/**
 * Whatever a rule of its own says. `faults` gives every fault with its whole path; `holds` says
 * only whether the value keeps the rule.
 */
export function customOption<Value>(
  words: OptionWords<Value> & {
    readonly rule: string;
    readonly holds?: (value: unknown) => boolean;
    readonly faults?: (value: unknown, path: string) => readonly Fault[];
  },
): Option<Value> {
  const { rule, holds = () => true, faults } = words;
  return declared(words, rule, (value, path) => {
    const found = faults?.(value, path) ?? [];
    return found.length > 0 || holds(value) ? found : [valueFault(value, path, rule)];
  });
}

/** Several values under one name, each an option of its own; all of them are given together. */
export function groupOption<Specs extends OptionSpecs>(
  members: Specs,
  words: Omit<OptionWords<OptionsOf<Specs>>, "default">,
): Option<OptionsOf<Specs>> {
  const names = Object.keys(members);
  const rule = `an object of ${names.join(", ")}`;
  return declared({ ...words, default: defaultsOf(members) }, rule, (given, path) => {
    if (typeof given !== "object" || given === null || Array.isArray(given)) {
      return [valueFault(given, path, rule)];
    }
    return [...memberFaults(members, given, path), ...unknownNames(given, names, path)];
  });
}

function memberFaults(members: OptionSpecs, given: object, path: string): readonly Fault[] {
  const fields = given as Readonly<Record<string, unknown>>;
  const hint = `${Object.keys(members).join(", ")} are given together`;
  return Object.entries(members).flatMap(([name, member]) => {
    const found = member.faults(fields[name], `${path}.${name}`);
    return fields[name] === undefined ? found.map((fault) => ({ ...fault, hint })) : found;
  });
}

/** A function that long work calls with its progress; never shown in an account. */
export function callbackOption<Call extends (...progress: never[]) => void>(
  meaning: string,
): Option<Call | null> {
  return functionOption<Call>(meaning, "callback");
}

/**
 * A callback that is told how much of how much is done. Where none is given, the place that runs
 * the step is told instead (`heard`).
 */
export function progressOption(meaning: string): Option<Tell | null> {
  return functionOption<Tell>(meaning, "progress");
}

function functionOption<Call>(meaning: string, role: "callback" | "progress"): Option<Call | null> {
  const rule = "a function, or null";
  return declared<Call | null>({ default: null, meaning, role }, rule, (value, path) =>
    value === null || typeof value === "function" ? [] : [valueFault(value, path, rule)],
  );
}
