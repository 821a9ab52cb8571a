import { standsForNone } from "../../check/plausible-values.js";
import type { Enquiry } from "../enquiry.js";
import { plainNumber } from "../values/number-form.js";
import type { Column } from "./column.js";

/** Numbers in channels that stand for no value, such as -9999. */
export function settleMarks(
  file: string,
  channels: readonly Column[],
  enquiry: Enquiry,
): ReadonlySet<number> {
  const found = new Map<number, string>();
  for (const { cells, numbers, header } of channels) {
    for (const cell of cells) {
      const value = Number(plainNumber(cell, numbers) ?? Number.NaN);
      if (standsForNone(value)) found.set(value, header);
    }
  }
  const name = "marks for none";
  if (found.size === 0 && !enquiry.has(name, file)) return new Set();
  const where = [...found].map(([value, header]) => `${value} in "${header}"`).join(", ");
  const answer = enquiry.settle({
    file,
    name,
    ask: `Which numbers stand for no value (found: ${where}); "none" where all are readings?`,
    guess: [...found.keys()].join(" "),
    why: "loggers write such numbers where they have nothing",
    broken: (text) =>
      text === "none" || numbersIn(text).every(Number.isFinite) ? null : 'numbers, or "none"',
  });
  return new Set(answer === null || answer === "none" ? [] : numbersIn(answer));
}

const numbersIn = (text: string) =>
  text
    .trim()
    .split(/[\s,;]+/)
    .map(Number);
