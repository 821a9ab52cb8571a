import { relative, resolve } from "node:path";
import { NotebookFault } from "../../notebook/notebook-fault.js";
import { type AppendixCommandOptions, appendixCommand } from "../appendix.js";
import { failureOf, InputFault } from "../failure.js";
import { terminalText } from "../terminal-text.js";
import { inputState, type WatchedInputs } from "./input-state.js";
import { nextChange } from "./next-change.js";

/**
 * `banquette appendix --watch`: makes the appendix, and makes it again from the top whenever a file
 * of the survey or the notebook holds something else. A change during a run ends that run. A fault
 * is told and the watch goes on. Ends when the signal aborts.
 */
export async function watchAppendix(
  folder: string,
  options: AppendixCommandOptions,
): Promise<void> {
  const survey = resolve(folder);
  const inputs = {
    survey,
    notebook: outsideNotebook(survey, options.notebook),
    out: resolve(options.out),
  };
  while (!options.signal.aborted) {
    const changed = await untilChanged(folder, inputs, options);
    if (changed.length > 0) tell(`changed: ${changed.join(", ")}; from the top again`);
  }
  tell("no longer watching");
}

/** One run, and the files that changed after it began; none where the signal ended the watch. */
async function untilChanged(
  folder: string,
  inputs: WatchedInputs,
  options: AppendixCommandOptions,
): Promise<readonly string[]> {
  const { signal } = options;
  const outdated = new AbortController();
  const known = await inputState(inputs).catch(() => new Map<string, string>());
  const change = nextChange(inputs, known, signal).catch((error: unknown) => {
    if (signal.aborted) return [];
    throw error;
  });
  change.then(
    () => outdated.abort(),
    () => outdated.abort(),
  );
  await runOnce(folder, { ...options, signal: AbortSignal.any([signal, outdated.signal]) });
  if (!outdated.signal.aborted && !signal.aborted) tell(`watching ${folder}; Ctrl-C ends it`);
  return change;
}

async function runOnce(folder: string, options: AppendixCommandOptions): Promise<void> {
  try {
    await appendixCommand(folder, options);
  } catch (error) {
    if (options.signal.aborted) return;
    if (!(error instanceof InputFault || error instanceof NotebookFault)) throw error;
    tell(failureOf(error, false).lines.join("\n"));
  }
}

function outsideNotebook(survey: string, notebook: string | undefined): string | null {
  if (notebook === undefined) return null;
  return relative(survey, resolve(notebook)).startsWith("..") ? notebook : null;
}

function tell(text: string): void {
  process.stderr.write(`${terminalText(text)}\n`);
}
