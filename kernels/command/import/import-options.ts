import { readFile } from "node:fs/promises";
import { type Answers, parseAnswers } from "../../../lib/index.js";
import { InputFault, UsageFault } from "../failure.js";

/** What the command line says of files to import. */
export interface ImportOptions {
  readonly from: readonly string[];
  /** A file of answers. */
  readonly answers: string | undefined;
  /** Single answers, `question=answer`. */
  readonly answer: readonly string[];
  readonly timezone: string | undefined;
  readonly crs: string | undefined;
  readonly role: string | undefined;
  readonly campaign: string | undefined;
  readonly line: string | undefined;
}

const NAMED = ["timezone", "crs", "role", "campaign", "line"] as const;

/** Answers from the file and from the options; an option takes the place of the file's answer. */
export async function answersOf(options: ImportOptions): Promise<Answers> {
  const { answers: file } = options;
  const read = file === undefined ? new Map<string, string>() : await answersIn(file);
  const single = options.answer.map(singleAnswer);
  const named = NAMED.flatMap((name): [string, string][] => {
    const value = options[name];
    return value === undefined ? [] : [[name, value]];
  });
  return new Map([...read, ...single, ...named]);
}

async function answersIn(file: string): Promise<Answers> {
  const text = await readFile(file, "utf8").catch((error: NodeJS.ErrnoException) => {
    throw new InputFault([`${file}: must be a file of answers (${error.code})`]);
  });
  const { answers, faults } = parseAnswers(text);
  if (faults.length > 0) throw new InputFault(faults.map((fault) => `${file} ${fault}`));
  return answers;
}

function singleAnswer(word: string): [string, string] {
  const { answers, faults } = parseAnswers(word);
  const [pair] = answers;
  if (faults.length > 0 || pair === undefined) {
    throw new UsageFault(`--answer: must be "question=answer", got "${word}"`);
  }
  return pair;
}
