import { existsSync } from "node:fs";
import { writeFile } from "node:fs/promises";
import { resolve } from "node:path";
import {
  type Answers,
  answersText,
  type ImportProposal,
  type ImportTarget,
  type Question,
  type RawFile,
  settleImport,
} from "../../../lib/index.js";
import { InputFault } from "../failure.js";
import { type Asker, terminalAsker } from "./ask.js";

export interface ImportTask {
  readonly files: readonly RawFile[];
  readonly answers: Answers;
  /** The file that they come from, if any. */
  readonly answersFile: string | undefined;
  readonly target: ImportTarget;
  /** Where open questions are written to. */
  readonly questionsFile: string;
}

/** An import that leaves nothing open, with the answers that it stands on. */
export interface SettledImport extends ImportProposal {
  readonly answers: Answers;
}

/** Asks on the terminal what the files do not tell; without one, writes the questions to a file. */
export async function settledImport(task: ImportTask): Promise<SettledImport> {
  if (!process.stdin.isTTY || !process.stdout.isTTY) return settledByFile(task);
  const asker = terminalAsker(process.stdin, process.stdout);
  try {
    return await settledByAsking(task, asker);
  } finally {
    asker.close();
  }
}

/** Asks one question after the other: an answer may open others. */
export async function settledByAsking(
  { files, answers: given, target }: Omit<ImportTask, "questionsFile" | "answersFile">,
  asker: Asker,
): Promise<SettledImport> {
  const answers = new Map(given);
  const left = new Set<string>();
  for (;;) {
    const proposal = settleImport(files, answers, target);
    const next = nextQuestion(proposal.questions, left);
    if (next === undefined) {
      if (proposal.faults.length > 0) throw new InputFault(proposal.faults);
      return { ...proposal, answers };
    }
    const answer = await asker.ask(next);
    if (answer === null) left.add(next.key);
    else answers.set(next.key, answer);
  }
}

function nextQuestion(questions: readonly Question[], left: ReadonlySet<string>) {
  const open = questions.filter(({ key }) => !left.has(key));
  return open.find(({ isOptional }) => !isOptional) ?? open[0];
}

async function settledByFile(task: ImportTask): Promise<SettledImport> {
  const { files, answers, target } = task;
  const proposal = settleImport(files, answers, target);
  const open = proposal.questions.filter(({ isOptional }) => !isOptional);
  if (open.length > 0) return refuseOpen(task, proposal, open);
  if (proposal.faults.length > 0) throw new InputFault(proposal.faults);
  return { ...proposal, answers };
}

async function refuseOpen(
  { answers, answersFile, questionsFile }: ImportTask,
  { questions, faults }: ImportProposal,
  open: readonly Question[],
): Promise<never> {
  const lines = open.map(({ key, ask, guess, why }) => {
    const guessed = guess === null ? why : `guess: ${guess}; ${why}`;
    return `${key}: must be answered: ${ask} (${guessed})`;
  });
  const isOwn = answersFile !== undefined && resolve(answersFile) === resolve(questionsFile);
  if (existsSync(questionsFile) && !isOwn) {
    const there = `${questionsFile}: must be given back with --answers, or taken away, for it is there`;
    throw new InputFault([...faults, ...lines, there]);
  }
  await writeFile(questionsFile, answersText(questions, answers));
  throw new InputFault(
    [...faults, ...lines],
    [
      `The questions, with guesses where there are any, are in ${questionsFile}.`,
      `Answer there, then run the same again with --answers ${questionsFile}.`,
    ],
  );
}
