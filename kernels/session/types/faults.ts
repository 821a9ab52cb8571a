import { firstTypeError } from "./diagnostics.js";

/** One type error in a cell; lines and columns count from 0. */
export interface TypeFault {
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly text: string;
  readonly code: number;
  /** Set where the error is in a file that the cell imports. */
  readonly file: string | null;
}

/**
 * Each fault once, those of one place together, as a chain of messages about a union comes apart;
 * of a text that cannot be read only that.
 */
export function tellingFaults(faults: readonly TypeFault[]): TypeFault[] {
  const isSyntax = faults.some(({ code }) => code < firstTypeError);
  const byPlace = new Map<string, TypeFault>();
  for (const fault of faults) {
    if (isSyntax && fault.code >= firstTypeError) continue;
    const { file, line, column, endLine, endColumn } = fault;
    const place = [file, line, column, endLine, endColumn].join(" ");
    const first = byPlace.get(place);
    if (first?.text.includes(fault.text)) continue;
    byPlace.set(place, first ? { ...first, text: `${first.text} ${fault.text}` } : fault);
  }
  return [...byPlace.values()];
}
