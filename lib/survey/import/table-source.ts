import { otherFormat } from "../read/table/recognise.js";
import type { Enquiry } from "./enquiry.js";
import { splitCells, withoutBlankEnd } from "./layout/cells.js";
import { isComment, type Layout, recogniseLayout } from "./layout/recognise-layout.js";
import { namedLayout } from "./named-layout.js";
import type { RawFile } from "./raw-file.js";
import { LineTooLong, sampleLines } from "./text/raw-lines.js";
import { recogniseEncoding } from "./text/recognise-encoding.js";

/** A file that holds a table, and a sample of its rows. */
export interface TableSource {
  readonly file: RawFile;
  readonly encoding: string;
  readonly layout: Layout;
  /** Cells of the sampled rows of data. */
  readonly rows: readonly (readonly string[])[];
}

/** The table in a file; null, with a fault, where it holds none. */
export function tableSource(file: RawFile, enquiry: Enquiry): TableSource | null {
  const other = otherFormat(file.bytes);
  const encoding = other === null ? recogniseEncoding(file.bytes) : null;
  if (file.bytes.length === 0 || encoding === null) {
    const found = file.bytes.length === 0 ? "an empty file" : (other ?? "a binary file");
    enquiry.fault(`${file.name}: must be a table of text, got ${found}`);
    return null;
  }
  const answer = enquiry.settle({
    file: file.name,
    name: "encoding",
    ask: "In which encoding is the text?",
    guess: encoding.encoding,
    why: encoding.why,
    isSure: true,
    broken: (name) => (isEncoding(name) ? null : "an encoding such as utf-8 or windows-1252"),
  });
  return sampled(file, answer ?? encoding.encoding, enquiry);
}

function isEncoding(name: string): boolean {
  try {
    new TextDecoder(name);
    return true;
  } catch {
    return false;
  }
}

function sampled(file: RawFile, encoding: string, enquiry: Enquiry): TableSource | null {
  try {
    const lines = sampleLines(file.bytes, encoding);
    const layout = namedLayout(lines) ?? recogniseLayout(file.name, lines, enquiry);
    if (layout === null) return null;
    const rows = lines
      .filter(({ row, text }) => row >= layout.firstRow && text.trim() !== "" && !isComment(text))
      .map(({ text }) => splitCells(text, layout.separator))
      .filter((cells) => isWhole(cells, layout));
    return { file, encoding, layout, rows };
  } catch (error) {
    if (!(error instanceof LineTooLong)) throw error;
    enquiry.fault(`${file.name} ${error.message}`);
    return null;
  }
}

/** True for a row with as many cells as the table has, blank ones at its end aside. */
export function isWhole(cells: readonly string[], { count }: Layout): boolean {
  return cells.length === count || (cells.length > count && withoutBlankEnd(cells).length <= count);
}
