import { codeFrame } from "../cell/code-frame.js";
import type { ErrorOutput } from "../show/outputs.js";
import type { TypeFault } from "./type-services.js";

/** Faults shown at the most; the rest are counted. */
const shownFaults = 10;

/** A failed type check as a Jupyter error: a code frame for each fault. */
export function typeErrorOutput(source: string, faults: readonly TypeFault[]): ErrorOutput {
  const frames = faults.slice(0, shownFaults).map((fault) => faultFrame(source, fault));
  const more = faults.length - frames.length;
  return {
    output_type: "error",
    ename: "TypeCheckError",
    evalue: faults[0]?.text ?? "",
    traceback: [
      "TypeCheckError: the cell does not pass the type check; nothing of it ran",
      ...frames,
      ...(more > 0 ? [`and ${more} more`] : []),
    ],
  };
}

function faultFrame(source: string, fault: TypeFault): string {
  const note = `${fault.text} (TS${fault.code})`;
  if (fault.file !== null) return `${fault.file}:${fault.line + 1}: ${note}`;
  const length = fault.endLine === fault.line ? fault.endColumn - fault.column : undefined;
  return codeFrame(source, {
    line: fault.line,
    column: fault.column,
    note,
    ...(length !== undefined && { length }),
  });
}
