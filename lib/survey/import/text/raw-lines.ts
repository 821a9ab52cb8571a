import { piecesOf } from "../../read/package/folder.js";

/** A line of a file; the first has the row 1. */
export interface RawLine {
  readonly row: number;
  readonly text: string;
}

/** No row of a logger comes near. */
const LONGEST_LINE = 100_000;

/** Thrown for a line that no logger writes. */
export class LineTooLong extends Error {
  readonly row: number;

  constructor(row: number) {
    super(`row ${row}: must be a line of ${LONGEST_LINE.toLocaleString("en")} letters at the most`);
    this.row = row;
  }
}

/** The lines of a text one by one, whatever their ends; a large file is never held as text. */
export function* rawLines(bytes: Uint8Array, encoding: string): Generator<RawLine> {
  let [row, rest] = [1, ""];
  for (const { text } of piecesOf(bytes, encoding)) {
    const lines = (rest + text).split(/\r\n|\n|\r(?!$)/);
    rest = lines.pop() ?? "";
    if (rest.length > LONGEST_LINE) throw new LineTooLong(row + lines.length);
    for (const line of lines) {
      if (line.length > LONGEST_LINE) throw new LineTooLong(row);
      yield { row: row++, text: line };
    }
  }
  rest = rest.replace(/\r$/, "");
  if (rest !== "") yield { row, text: rest };
}

const WHOLE_TO_ROW = 2000;
const EVERY = 50;
const MOST_LINES = 20_000;

/** The first lines, and of the rest one in fifty: enough to tell the form of a file. */
export function sampleLines(bytes: Uint8Array, encoding: string): readonly RawLine[] {
  const sample: RawLine[] = [];
  for (const line of rawLines(bytes, encoding)) {
    if (line.row > WHOLE_TO_ROW && line.row % EVERY !== 0) continue;
    if (sample.length < MOST_LINES) sample.push(line);
  }
  return sample;
}
