import { type Fault, quoted } from "../step-error.js";
import { declared, type Option, type OptionWords } from "./option.js";
import { numberFault, valueFault, wordFault } from "./option-fault.js";

export { valueFault } from "./option-fault.js";

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
    isWithin(value, words) ? [] : [numberFault(value, path, rule)],
  );
}

/** A number within a range, or one of some words. */
export function numberOr<const Word extends string | null>(
  words: readonly Word[],
  option: OptionWords<number | NoInfer<Word>> & NumberRange,
): Option<number | Word> {
  const named = words.map((word) => (word === null ? "null" : quoted(word))).join(" or ");
  const rule = `${rangeText(option, option.unit ?? "")}, or ${named}`;
  return declared(option, rule, (value, path) =>
    words.includes(value as Word) || isWithin(value, option)
      ? []
      : [wordFault(numberFault(value, path, rule), value, words)],
  );
}

/** A list of numbers, each within a range. */
export function numbersOption(
  words: OptionWords<readonly number[]> &
    NumberRange & { readonly least?: number; readonly rising?: true },
): Option<readonly number[]> {
  const { least = 0, rising = false } = words;
  const each = rangeText(words, words.unit ?? "");
  const count = least > 0 ? `a list of ${least} or more` : "a list";
  const rule = `${count}, each ${each}${rising ? ", rising" : ""}`;
  return declared(words, rule, (value, path) => {
    if (!isList(value) || value.length < least) return [valueFault(value, path, rule)];
    const outside = Array.from(value).findIndex((one) => !isWithin(one, words));
    if (outside >= 0) return [numberFault(value[outside], `${path}[${outside}]`, each)];
    return rising ? risingFaults(value, path) : [];
  });
}

/** The first number that is not above the one before it. */
function risingFaults(values: ArrayLike<number>, path: string): readonly Fault[] {
  const at = Array.from(values).findIndex((one, i, all) => i > 0 && !(one > all[i - 1]!));
  if (at < 0) return [];
  return [numberFault(values[at], `${path}[${at}]`, `above the one before it, ${values[at - 1]}`)];
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
  ].join(" and ");
  const noun = whole === true ? "a whole number" : limits === "" ? "a finite number" : "a number";
  const measure = limits === "" && unit !== "" ? `in ${unit}` : unit;
  return [noun, limits, measure].filter((part) => part !== "").join(" ");
}
