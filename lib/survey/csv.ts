import Papa from "papaparse";
import { quoted } from "../result/step-error.js";
import type { Dialect } from "./descriptor.js";
import type { FaultLog } from "./faults.js";

/** The cells of a CSV file as text, blank lines left out. */
export interface RawTable {
  readonly file: string;
  readonly header: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** For each row its line number in the file, the first line being 1. */
  readonly line: Int32Array;
}

/** Splits a CSV file by its dialect; null where it holds nothing. `names` stand in for a header. */
export function parseCsv(
  text: string,
  source: { readonly file: string; readonly dialect: Dialect; readonly names: readonly string[] },
  log: FaultLog,
): RawTable | null {
  const { file, dialect } = source;
  const { data, errors } = Papa.parse<string[]>(text.replace(/\r\n?/g, "\n"), {
    delimiter: dialect.delimiter ?? ",",
    newline: "\n",
    ...(dialect.quoteChar === undefined ? {} : { quoteChar: dialect.quoteChar }),
  });
  const lines = lineNumbers(data);
  for (const error of errors.filter(({ type }) => type === "Quotes")) {
    const row = lines[error.row ?? 0] ?? null;
    log.add({ code: "bad-quotes", file, row, rule: "quoted properly", value: error.message });
  }
  const filled = data.map((_, i) => i).filter((i) => data[i]!.some((cell) => cell.trim() !== ""));
  const rows = filled.map((i) => data[i]!);
  const line = Int32Array.from(filled, (i) => lines[i]!);
  if (rows.length === 0) return null;
  if (dialect.header === false) return { file, header: source.names, rows, line };
  const header = rows[0]!.map((name) => name.trim());
  return { file, header, rows: rows.slice(1), line: line.slice(1) };
}

/** Where each record starts: a quoted cell may hold line breaks. */
function lineNumbers(records: readonly (readonly string[])[]): Int32Array {
  const lines = new Int32Array(records.length);
  let line = 1;
  for (const [i, record] of records.entries()) {
    lines[i] = line;
    line += 1 + record.reduce((sum, cell) => sum + (cell.split("\n").length - 1), 0);
  }
  return lines;
}

/** Logs columns of one name and rows that are longer or shorter than the header. */
export function checkShape(raw: RawTable, log: FaultLog): readonly boolean[] {
  const { file, header } = raw;
  for (const name of new Set(header.filter((name, i) => header.indexOf(name) !== i))) {
    if (name === "") continue;
    const value = `${header.filter((other) => other === name).length} columns ${quoted(name)}`;
    log.add({ code: "duplicate-column", file, row: 1, field: name, rule: "one column", value });
  }
  return raw.rows.map((cells, i) => {
    if (cells.length === header.length) return true;
    const rule = `${header.length} cells long, as the header`;
    log.add({ code: "ragged-row", file, row: raw.line[i]!, rule, value: `${cells.length} cells` });
    return false;
  });
}
