import { frozen } from "../frozen.js";
import type { Fault } from "../step-error.js";

/**
 * One option of a step, declared once: from it come the type that users see, the default, the
 * check, the documentation and what an account shows.
 */
export interface Option<Value> {
  /** What it does, with the behaviour at its edges, in plain sentences. */
  readonly meaning: string;
  /** What it decides, in a few words, such as "Shortest block"; "" where the meaning opens so. */
  readonly title: string;
  /** As it is written, such as "m"; "" for none. */
  readonly unit: string;
  readonly default: Value;
  /** What a value must be, to be read after "must be". */
  readonly rule: string;
  /** Every fault of a value that stands at `path`. */
  readonly faults: (value: unknown, path: string) => readonly Fault[];
  /**
   * "choice": an interpreter's, which a decision may set; "data": handed over from an earlier step,
   * shown and no decision; "callback": neither shown nor decided; "progress": a callback that is
   * told how much is done.
   */
  readonly role: "choice" | "data" | "callback" | "progress";
  /** The value as the account shows it, where it is not shown as it is. */
  readonly shown?: (value: Value) => unknown;
}

/** An option of whatever value. */
export type AnyOption = Omit<Option<unknown>, "shown"> & {
  readonly shown?: (value: never) => unknown;
};

/** The options of a step by name. */
export type OptionSpecs = { readonly [name: string]: AnyOption };

/** The resolved options of a step: every option has a value. */
export type OptionsOf<Specs> = {
  readonly [Name in keyof Specs]: Specs[Name] extends Option<infer Value> ? Value : never;
};

/** What every option says of itself beside its rule. */
export interface OptionWords<Value> {
  readonly default: Value;
  readonly meaning: string;
  readonly title?: string;
  readonly unit?: string;
  readonly role?: Option<Value>["role"];
  readonly shown?: (value: Value) => unknown;
}

/** What an option says of itself, with its rule and its check. */
export function declared<Value>(
  words: OptionWords<Value>,
  rule: string,
  faults: Option<Value>["faults"],
): Option<Value> {
  const { meaning, title = "", unit = "", role = "choice", shown } = words;
  return {
    ...{ meaning, title, unit, rule, faults, role },
    default: frozen(words.default),
    ...(shown && { shown }),
  };
}
