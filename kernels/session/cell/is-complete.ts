import { loadTypeScript } from "../types/typescript.js";
import { compilerText } from "./cell-text.js";

/** Whether a text can run as a cell, in the words of the Jupyter protocol. */
export interface Completeness {
  readonly status: "complete" | "incomplete" | "invalid" | "unknown";
  /** Spaces to begin the next line with; only where the text is incomplete. */
  readonly indent?: string;
}

const stringContinues = /\\\r?\n?$/;
const unterminatedString = 1002;

/** Tells by the syntax alone: incomplete where something is missing at the end of the text. */
export function completenessOf(source: string): Completeness {
  const ts = loadTypeScript();
  const text = compilerText(source);
  const file = ts.createSourceFile("cell.ts", text, ts.ScriptTarget.ES2022);
  const { parseDiagnostics: faults } = file as typeof file & {
    readonly parseDiagnostics: readonly { start: number; code: number }[];
  };
  const [first] = faults;
  if (first === undefined) return { status: "complete" };
  const isString = first.code === unterminatedString;
  const goesOn = isString ? stringContinues.test(text) : first.start >= text.trimEnd().length;
  if (!goesOn) return { status: "invalid" };
  return { status: "incomplete", indent: nextIndent(text) };
}

const opens = /(?:[{([]|=>|[=+*/%&|^,?:<>-])\s*(?:\/\/.*)?$/;

// As deep as the last line, deeper after an opening bracket or an operator.
function nextIndent(text: string): string {
  const last = text.split("\n").findLast((line) => line.trim() !== "") ?? "";
  const own = /^\s*/.exec(last)?.[0] ?? "";
  return opens.test(last) ? `${own}  ` : own;
}
