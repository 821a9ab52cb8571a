import Papa from "papaparse";
import { quoted } from "../../../step/step-error.js";
import type { FaultLog } from "../../check/faults.js";
import type { Dialect } from "../package/descriptor.js";

/** One record of a CSV file: its cells as text and the line it starts on, the first being 1. */
export interface CsvRecord {
  readonly cells: readonly string[];
  readonly line: number;
}

export interface CsvSource {
  readonly file: string;
  /** The text in pieces, cut anywhere. */
  readonly pieces: Iterable<string>;
  readonly dialect: Dialect;
  readonly delimiter: string;
}

/** What no row of a survey comes near; a longer one would be held whole. */
const LONGEST_RECORD = 2_000_000;

/**
 * Splits a CSV file into its records, blank lines left out, batch by batch: a large file is never
 * held whole. Line ends may be of any kind.
 */
export function* csvBatches(source: CsvSource, log: FaultLog): Generator<readonly CsvRecord[]> {
  const { file, pieces, dialect, delimiter } = source;
  const parser = new Papa.Parser({
    delimiter,
    newline: "\n",
    ...(dialect.quoteChar === undefined ? {} : { quoteChar: dialect.quoteChar }),
    ...(dialect.escapeChar === undefined ? {} : { escapeChar: dialect.escapeChar }),
  });
  let [line, rest] = [1, ""];
  for (const { text, isLast } of withUnixLineEnds(pieces)) {
    const input = rest + text;
    const { data, errors, meta } = parser.parse(input, 0, !isLast) as Papa.ParseResult<string[]>;
    rest = isLast ? "" : input.slice(meta.cursor);
    if (rest.length > LONGEST_RECORD) {
      const rule = `a row of ${LONGEST_RECORD.toLocaleString("en")} letters at the most`;
      const hint = "is a quote left open, or is the file no table?";
      log.add({ code: "row-length", file, row: line, rule, value: "a longer one", hint });
      return;
    }
    const batch = numbered(data, line, input.includes(dialect.quoteChar ?? '"'));
    const complete = errors.filter(({ row }) => isLast || (row ?? 0) < data.length);
    for (const error of complete.filter(({ type }) => type === "Quotes")) {
      const row = batch.records[error.row ?? 0]?.line ?? null;
      log.add({ code: "bad-quotes", file, row, rule: "quoted properly", value: error.message });
    }
    line = batch.next;
    yield batch.records.filter((record) => isFilled(record, dialect)).map(tidied(dialect));
  }
}

/** True for a record that is no blank line and no remark. */
function isFilled({ cells }: CsvRecord, { commentChar }: Dialect): boolean {
  if (commentChar !== undefined && cells[0]?.startsWith(commentChar)) return false;
  return cells.some((cell) => cell.trim() !== "");
}

function tidied({ skipInitialSpace }: Dialect): (record: CsvRecord) => CsvRecord {
  if (!skipInitialSpace) return (record) => record;
  return ({ cells, line }) => ({ cells: cells.map((cell) => cell.trimStart()), line });
}

/** Where each record starts: a quoted cell may hold line breaks. */
function numbered(data: readonly (readonly string[])[], first: number, mayHoldBreaks: boolean) {
  let line = first;
  const records = data.map((cells): CsvRecord => {
    const record = { cells, line };
    line += mayHoldBreaks ? cells.reduce((sum, cell) => sum + cell.split("\n").length - 1, 1) : 1;
    return record;
  });
  return { records, next: line };
}

/** The pieces with "\n" for "\r\n" and "\r", also where a piece ends between the two. */
function* withUnixLineEnds(pieces: Iterable<string>) {
  let held: string | null = null;
  for (const piece of pieces) {
    if (held !== null) {
      const isSplit: boolean = held.endsWith("\r");
      yield { text: unix(isSplit ? held.slice(0, -1) : held), isLast: false };
      held = isSplit ? `\r${piece}` : piece;
    } else {
      held = piece;
    }
  }
  yield { text: unix(held ?? ""), isLast: true };
}

function unix(text: string): string {
  return text.includes("\r") ? text.replace(/\r\n?/g, "\n") : text;
}

/** Logs columns of one name. */
export function checkHeader(file: string, header: readonly string[], log: FaultLog): void {
  for (const name of new Set(header.filter((name, i) => header.indexOf(name) !== i))) {
    if (name === "") continue;
    const value = `${header.filter((other) => other === name).length} columns ${quoted(name)}`;
    log.add({ code: "duplicate-column", file, row: 1, field: name, rule: "one column", value });
  }
}
