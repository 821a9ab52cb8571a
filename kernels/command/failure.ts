import { NotebookFault, UnknownParameter } from "../notebook/notebook-fault.js";
import { terminalText } from "./terminal-text.js";

/** Exit codes of the command: part of its contract. */
export const exitCodes = Object.freeze({ well: 0, input: 1, usage: 2, program: 3 });

/** A command line that asks for something that cannot be. */
export class UsageFault extends Error {
  override readonly name = "UsageFault";
}

/** An input that is refused, or a run that failed: every fault one line, details below. */
export class InputFault extends Error {
  override readonly name = "InputFault";
  readonly faults: readonly string[];
  /** Lines shown below the faults as they are, such as the cell that failed. */
  readonly details: readonly string[];

  constructor(faults: readonly string[], details: readonly string[] = []) {
    super(faults.join("\n"));
    this.faults = faults;
    this.details = details;
  }
}

/** How a failure reads on standard error, and the exit code that goes with it. */
export interface Failure {
  readonly lines: readonly string[];
  readonly exitCode: number;
}

export function failureOf(error: unknown, trace: boolean): Failure {
  const { faults, details, exitCode } = partsOf(error);
  const stack = trace && error instanceof Error ? [error.stack ?? ""] : [];
  const lines = [...faults.map((text) => `banquette: ${text}`), ...details, ...stack];
  return { lines: lines.map(terminalText), exitCode };
}

interface Parts {
  readonly faults: readonly string[];
  readonly details: readonly string[];
  readonly exitCode: number;
}

function partsOf(error: unknown): Parts {
  if (error instanceof InputFault) return { ...pick(error), exitCode: exitCodes.input };
  if (error instanceof UsageFault || error instanceof UnknownParameter) {
    return { faults: error.message.split("\n"), details: [], exitCode: exitCodes.usage };
  }
  if (error instanceof NotebookFault) {
    return { faults: error.faults, details: [], exitCode: exitCodes.input };
  }
  if (error instanceof Error && error.name === "AbortError") {
    return { faults: ["interrupted"], details: [], exitCode: exitCodes.input };
  }
  const refused = refusedBySystem(error);
  if (refused !== null) return { faults: [refused], details: [], exitCode: exitCodes.input };
  const text = error instanceof Error ? error.message : String(error);
  const first = `a fault of the program: ${text.split("\n")[0]}`;
  return { faults: [first], details: [], exitCode: exitCodes.program };
}

/** What a system says no to, which is no fault of the program. */
const REFUSALS: Readonly<Record<string, string>> = {
  ENOSPC: "no space is left there",
  EDQUOT: "no more may be written there",
  EFBIG: "no larger file may be written there",
  EROFS: "nothing may be written there",
  EACCES: "it is not allowed",
  EPERM: "it is not allowed",
  EIO: "the device fails",
  EMFILE: "too many files are open",
  ENFILE: "too many files are open",
};

function refusedBySystem(error: unknown): string | null {
  const { code = "", path, syscall } = error as NodeJS.ErrnoException;
  const why = Object.hasOwn(REFUSALS, code) ? REFUSALS[code] : undefined;
  if (why === undefined || syscall === undefined) return null;
  return `${path ?? "a file"}: cannot be ${syscall === "open" ? "opened" : "written"}: ${why} (${code})`;
}

function pick({ faults, details }: InputFault) {
  return { faults, details };
}
