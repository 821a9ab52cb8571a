import { groupedBy } from "../../numerics/arrays.js";
import type { Answers, Question, Settled } from "./enquiry.js";

/**
 * Reads lines of `key = value`; a line that begins with # is a remark, an empty value no answer.
 */
export function parseAnswers(text: string): { answers: Answers; faults: readonly string[] } {
  const answers = new Map<string, string>();
  const faults: string[] = [];
  for (const [i, line] of text
    .replace(/^\ufeff/, "")
    .split(/\r\n|\n|\r/)
    .entries()) {
    if (line.trim() === "" || line.trimStart().startsWith("#")) continue;
    const at = line.includes(" = ") ? line.indexOf(" = ") + 1 : line.indexOf("=");
    const key = line.slice(0, Math.max(0, at)).trim();
    const value = line.slice(at + 1).trim();
    if (key === "") faults.push(`row ${i + 1}: must be "question = answer", got "${line.trim()}"`);
    else if (answers.has(key) && value !== "")
      faults.push(`row ${i + 1}: must be another question than before, got "${key}"`);
    else if (value !== "") answers.set(key, value);
  }
  return { answers, faults };
}

/** A file of answers to fill in: what is open, with guesses; the answers so far stand first. */
export function answersText(questions: readonly Question[], given: Answers): string {
  const needed = questions.filter(({ isOptional }) => !isOptional);
  const optional = questions.filter(({ isOptional }) => isOptional);
  return [
    "# How the files are read. Put an answer behind each =, change what is wrong, and give this file",
    "# back with --answers. A question holds for all files, or for one where its name stands before it:",
    '# "timezone = UTC" or "walk.txt: timezone = UTC". Guesses count once this file is given back.',
    "",
    ...[...given].map(([key, value]) => `${key} = ${value}`),
    ...(given.size > 0 ? [""] : []),
    ...needed.flatMap(questionLines),
    ...(optional.length > 0 ? ["# What follows may stay empty.", ""] : []),
    ...optional.flatMap(questionLines),
  ].join("\n");
}

function questionLines({ key, ask, guess, why, choices }: Question): readonly string[] {
  const of = choices === undefined ? "" : ` One of: ${choices.join(", ")}.`;
  const because = guess === null ? why : `guessed: ${why}`;
  return [`# ${ask}${of}`, `# (${because})`, `${key} = ${guess ?? ""}`, ""];
}

/** What one file was told and the next need not share. */
const OF_ONE_FILE =
  /^(role|date|campaign|line|spot|walks|repeated hour|encoding|separator|centreline)$/;

/**
 * Answers of imports before that hold for further files of the same loggers: what all files agreed
 * on. An offset from UTC is none of them, for it changes with the season.
 */
export function earlierAnswers(settled: readonly Pick<Settled, "key" | "value">[]): Answers {
  const byName = groupedBy(settled, ({ key }) => key.replace(/^.*?: /, ""));
  const agreed = [...byName].flatMap(([name, all]): [string, string][] => {
    const [value = "", ...others] = new Set(all.map((one) => one.value));
    const isSeasonal = name === "timezone" && /^[+-]/.test(value);
    return others.length > 0 || isSeasonal || OF_ONE_FILE.test(name) ? [] : [[name, value]];
  });
  return new Map(agreed);
}
