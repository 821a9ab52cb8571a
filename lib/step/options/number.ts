import { type Fault, quoted } from "../step-error.js";
import { declared, type Option, type OptionWords } from "./option.js";

/** The numbers that an option may take; without limits any finite one. */
export interface NumberRange {
  /** Above this. */
  readonly above?: number;
  /** At least this. */
  readonly from?: number;
  /** Below this. */
  readonly below?: number;
  /** At most this. */
  readonly upTo?: number;
  readonly whole?: boolean;
}

/** A number within a range. */
export function numberOption(words: OptionWords<number> & NumberRange): Option<number> {
  const rule = rangeText(words, words.unit ?? "");
  return declared(words, rule, (value, path) =>
    isWithin(value, words) ? [] : [rangeFault(value, path, rule)],
  );
}

/** A number within a range, or one of some words. */
export function numberOr<const Word extends string | null>(
  words: readonly Word[],
  option: OptionWords<number | Word> & NumberRange,
): Option<number | Word> {
  const named = words.map((word) => (word === null ? "null" : quoted(word))).join(" or ");
  const rule = `${rangeText(option, option.unit ?? "")}, or ${named}`;
  return declared(option, rule, (value, path) =>
    words.includes(value as Word) || isWithin(value, option) ? [] : [rangeFault(value, path, rule)],
  );
}

/** A list of numbers, each within a range. */
export function numbersOption(
  words: OptionWords<readonly number[]> &
    NumberRange & { readonly least?: number; readonly rising?: true },
): Option<readonly number[]> {
  const { least = 0, rising } = words;
  const each = rangeText(words, words.unit ?? "").replace(/^a /, "");
  const order = rising === true ? ", rising" : "";
  const count = least > 0 ? `a list of ${least} or more` : "a list";
  const rule = `${count}, each ${/^(finite )?number/.test(each) ? "a " : ""}${each}${order}`;
  return declared(words, rule, (value, path) => {
    if (!isList(value) || value.length < least) return [valueFault(value, path, rule)];
    const bad = Array.from(value).findIndex(
      (one, i) => !isWithin(one, words) || (rising === true && i > 0 && !(one > value[i - 1]!)),
    );
    return bad < 0 ? [] : [rangeFault(value[bad], `${path}[${bad}]`, rule)];
  });
}

function isList(value: unknown): value is ArrayLike<number> {
  return Array.isArray(value) || value instanceof Float64Array;
}

/** Written so that NaN, infinity and what is no number lie outside. */
export function isWithin(value: unknown, range: NumberRange): value is number {
  if (typeof value !== "number" || !Number.isFinite(value)) return false;
  const { above, from, below, upTo, whole } = range;
  return (
    (above === undefined || value > above) &&
    (from === undefined || value >= from) &&
    (below === undefined || value < below) &&
    (upTo === undefined || value <= upTo) &&
    (whole !== true || Number.isInteger(value))
  );
}

/** "a number above 0 and at most 20 m". */
export function rangeText({ above, from, below, upTo, whole }: NumberRange, unit: string): string {
  const limits = [
    ...(above === undefined ? [] : [`above ${above}`]),
    ...(from === undefined ? [] : [`at least ${from}`]),
    ...(below === undefined ? [] : [`below ${below}`]),
    ...(upTo === undefined ? [] : [`at most ${upTo}`]),
  ];
  const noun =
    whole === true ? "a whole number" : limits.length > 0 ? "a number" : "a finite number";
  return [noun, limits.join(" and "), unit].filter((part) => part !== "").join(" ");
}

function rangeFault(value: unknown, path: string, expected: string): Fault {
  return { code: "option-range", path, expected, received: quoted(value) };
}

/** The fault of a value that is not of the kind, or none of the words, that it may be. */
export function valueFault(value: unknown, path: string, expected: string): Fault {
  return { code: "option-value", path, expected, received: quoted(value) };
}
