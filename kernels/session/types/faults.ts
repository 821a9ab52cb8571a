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

/** Each fault once; of a text that cannot be read only that. */
export function tellingFaults(faults: readonly TypeFault[]): TypeFault[] {
  const seen = new Set<string>();
  const isSyntax = faults.some(({ code }) => code < firstTypeError);
  return faults.filter((one) => {
    const key = `${one.file} ${one.line} ${one.column} ${one.code} ${one.text}`;
    if (seen.has(key) || (isSyntax && one.code >= firstTypeError)) return false;
    seen.add(key);
    return true;
  });
}
