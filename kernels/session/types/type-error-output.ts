import { codeFrame } from "../cell/code-frame.js";
import { openBracketBefore } from "../cell/open-bracket.js";
import type { ErrorOutput } from "../show/outputs.js";
import { firstTypeError } from "./diagnostics.js";
import { importLine, libraryNames } from "./exported-names.js";
import type { TypeFault } from "./faults.js";

/** Faults shown at the most; the rest are counted. */
const shownFaults = 10;

const hint = "A cell that begins with the line `// unchecked` runs in spite of type errors.";

/** A failed type check as a Jupyter error: a code frame for each fault. */
export function typeErrorOutput(source: string, faults: readonly TypeFault[]): ErrorOutput {
  const frames = faults.slice(0, shownFaults).map((fault) => faultFrame(source, fault));
  const more = faults.length - frames.length;
  const isOfTypes = faults.every(({ code, file }) => code >= firstTypeError && file === null);
  return {
    output_type: "error",
    ename: "TypeCheckError",
    evalue: faults[0]?.text ?? "",
    traceback: [
      "TypeCheckError: the cell does not pass the type check; nothing of it ran",
      ...frames,
      ...(more > 0 ? [`and ${more} more`] : []),
      ...(isOfTypes ? [hint] : []),
    ],
  };
}

function faultFrame(source: string, fault: TypeFault): string {
  const note = `${fault.text} (TS${fault.code})`;
  if (fault.file !== null) return `${fault.file}:${fault.line + 1}: ${note}`;
  const lines = source.split("\n");
  // What is missing at the end is found behind the last line.
  const isBehind = fault.line >= lines.length;
  const line = isBehind ? lines.findLastIndex((one) => one.trim() !== "") : fault.line;
  const column = isBehind ? (lines[line]?.trimEnd().length ?? 0) : fault.column;
  const length = fault.endLine === line ? fault.endColumn - column : undefined;
  const before = lines.slice(0, Math.max(0, line)).reduce((sum, one) => sum + one.length + 1, 0);
  const more =
    missingImport(fault) + installing(fault) + openBracket(source, fault, before + column);
  return codeFrame(source, {
    line: Math.max(0, line),
    column,
    note: note + more,
    ...(length !== undefined && { length }),
  });
}

const moduleNotFound = 2307;

// A package: neither a path nor one of Node's own.
function installing({ text, code }: TypeFault): string {
  const name = /'([^']+)'/.exec(text)?.[1] ?? "";
  if (code !== moduleNotFound || /^(?:[./]|node:)/.test(name)) return "";
  return "; `// install` behind the import has the kernel get the package";
}

const somethingExpected = 1005;

function openBracket(source: string, { code }: TypeFault, end: number): string {
  const open = code === somethingExpected ? openBracketBefore(source, end) : null;
  if (open === null) return "";
  return `; the ${open.bracket} of line ${open.line + 1}, column ${open.column + 1} is open`;
}

function missingImport({ text }: TypeFault): string {
  const name = /^Cannot find name '([^']+)'/.exec(text)?.[1] ?? "";
  return libraryNames().has(name) ? `; missing: ${importLine(name)}` : "";
}
