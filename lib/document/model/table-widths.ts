import { textWidth } from "../../step/show/text-width.js";
import type { Cell } from "./block.js";
import { piecesOf } from "./holding.js";

/** Sizes of letters in tables, pt, the usual one first. */
const texts_pt = [7.5, 6.8, 6.2] as const;

/** What stands free on both sides of a cell's text, pt. */
export const cellGap_pt = 8;

/** Text outside ASCII is measured by a mean width; this much more is taken to be safe. */
const slack = 1.04;

/**
 * A table with cells of more lines is given smaller letters or a turned page, unless it is so short
 * that all of it stays within some lines.
 */
const mostLines = 5;
const mostOfAll = 45;

/** A column as it is measured: its texts, head first. */
export interface MeasuredColumn {
  readonly texts: readonly string[];
}

/** The columns of a table's lines, head first; a cell over several columns asks for no width. */
export function columnsOf(
  lines: readonly (readonly Cell[])[],
  words: (content: Cell["content"]) => string,
): readonly MeasuredColumn[] {
  const count = Math.max(0, ...lines.map((line) => line.length));
  const textAt = (line: readonly Cell[], i: number) => {
    const cell = line[i];
    return cell === undefined || cell.span > 1 ? "" : words(cell.content);
  };
  return Array.from({ length: count }, (_, i) => ({ texts: lines.map((line) => textAt(line, i)) }));
}

/** Columns that stand side by side on one page, by their place in the table. */
export interface TablePart {
  readonly columns: readonly number[];
  readonly widths_pt: readonly number[];
  readonly text_pt: number;
  /** True where it stands on a page turned to landscape. */
  readonly turned: boolean;
}

export interface PageWidths {
  readonly upright_pt: number;
  readonly turned_pt: number;
}

/**
 * How a table stands on paper: upright where its words fit and no cell runs over many lines, in
 * smaller letters where they do not, else on a turned page, else in parts, each with the first
 * column. No column is narrower than its longest word.
 */
export function tableParts(
  columns: readonly MeasuredColumn[],
  page: PageWidths,
): readonly TablePart[] {
  const all = columns.map((_, i) => i);
  const layouts = placesOn(page).flatMap((place) => {
    const sizes = columns.map((column) => sizesOf(column, place.text_pt));
    if (sum(sizes.map(({ least_pt }) => least_pt)) > place.page_pt) return [];
    const part = partOf(all, sizes, place);
    return [{ part, lines: linesIn(sizes, part.widths_pt) }];
  });
  const rows = Math.max(1, ...columns.map(({ texts }) => texts.length));
  const enough = Math.max(
    mostLines,
    Math.floor(mostOfAll / rows),
    Math.min(...layouts.map(({ lines }) => lines)),
  );
  const found = layouts.find(({ lines }) => lines <= enough);
  return found === undefined ? groups(columns, page) : [found.part];
}

/** A page that a table may stand on, and the size of its letters there. */
interface Place {
  readonly page_pt: number;
  readonly text_pt: number;
  readonly turned: boolean;
}

function placesOn({ upright_pt, turned_pt }: PageWidths): readonly Place[] {
  return [
    ...texts_pt.map((text_pt) => ({ text_pt, turned: false, page_pt: upright_pt })),
    ...texts_pt.map((text_pt) => ({ text_pt, turned: true, page_pt: turned_pt })),
  ];
}

interface Sizes {
  /** Of the longest word. */
  readonly least_pt: number;
  /** Of the longest text on one line. */
  readonly whole_pt: number;
}

function sizesOf({ texts }: MeasuredColumn, text_pt: number): Sizes {
  const width = (text: string, i: number) =>
    slack * textWidth(text.replaceAll("\u2060", ""), text_pt, i === 0 ? "bold" : "normal");
  const least = Math.max(
    0,
    ...texts.flatMap((text, i) => piecesOf(text).map((one) => width(one, i))),
  );
  const whole = Math.max(0, ...texts.map(width));
  return { least_pt: least + cellGap_pt, whole_pt: whole + cellGap_pt };
}

/** Lines of the tallest cell, by its width alone. */
function linesIn(sizes: readonly Sizes[], widths_pt: readonly number[]): number {
  const lines = sizes.map(({ whole_pt }, i) =>
    Math.ceil((whole_pt - cellGap_pt) / Math.max(1, (widths_pt[i] ?? 0) - cellGap_pt)),
  );
  return Math.max(1, ...lines);
}

/** Columns as wide as the fewest lines ask for; what is left over goes to them by what they lack. */
function partOf(
  columns: readonly number[],
  sizes: readonly Sizes[],
  { page_pt, text_pt, turned }: Place,
): TablePart {
  const own = columns.map((i) => sizes[i] as Sizes);
  const asked = fewestLines(own, page_pt);
  const lacking = sum(own.map(({ whole_pt }, i) => Math.max(0, whole_pt - (asked[i] ?? 0))));
  const share = lacking === 0 ? 0 : Math.min(1, Math.max(0, (page_pt - sum(asked)) / lacking));
  const widths_pt = asked.map((width, i) =>
    Number((width + share * Math.max(0, (own[i]?.whole_pt ?? 0) - width)).toFixed(2)),
  );
  return { columns, widths_pt, text_pt, turned };
}

/** Cells of more lines than this are not made narrower for it. */
const linesTried = 60;
/** Words do not fill their lines: so much wider is a text of several. */
const ragged = 1.15;

/** The least widths under which no cell needs more lines than the page forces on one. */
function fewestLines(sizes: readonly Sizes[], page_pt: number): readonly number[] {
  for (let lines = 1; lines <= linesTried; lines++) {
    const part = (lines === 1 ? 1 : ragged) / lines;
    const widths = sizes.map(({ least_pt, whole_pt }) =>
      Math.max(least_pt, cellGap_pt + part * (whole_pt - cellGap_pt)),
    );
    if (sum(widths) <= page_pt) return widths;
  }
  return sizes.map(({ least_pt }) => least_pt);
}

/** The first column stands in each part; the others follow as long as they fit. */
function groups(
  columns: readonly MeasuredColumn[],
  { turned_pt }: PageWidths,
): readonly TablePart[] {
  const [text_pt] = texts_pt;
  const sizes = columns.map((column) => sizesOf(column, text_pt));
  const least = (i: number) => sizes[i]?.least_pt ?? 0;
  const parts: number[][] = [];
  let used_pt = Number.POSITIVE_INFINITY;
  for (let i = 1; i < sizes.length; i++) {
    if (used_pt + least(i) > turned_pt) {
      parts.push([0]);
      used_pt = least(0);
    }
    parts.at(-1)?.push(i);
    used_pt += least(i);
  }
  return parts.map((part) => partOf(part, sizes, { text_pt, turned: true, page_pt: turned_pt }));
}

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
