import { textWidth } from "../../step/show/text-width.js";
import { piecesOf } from "./paper-text.js";

/** Sizes of letters in tables, pt, of which the first that fits is taken, the greatest first. */
export const tableTexts_pt = [7.5, 6.8, 6.2] as const;

/** What stands free on both sides of a cell's text, pt. */
export const cellGap_pt = 8;

/** Text outside ASCII is measured by a mean width; this much more is taken to be safe. */
const slack = 1.04;

/** A column as it is measured: its texts, head first. */
export interface MeasuredColumn {
  readonly texts: readonly string[];
}

/** Columns that stand side by side on one page, by their place in the table. */
export interface TablePart {
  readonly columns: readonly number[];
  readonly widths_pt: readonly number[];
  readonly text_pt: number;
  /** True where only a page turned to landscape holds it. */
  readonly turned: boolean;
}

export interface PageWidths {
  readonly upright_pt: number;
  readonly turned_pt: number;
}

/**
 * How a table stands on paper: upright where its longest words fit, in smaller letters where they do
 * not, else on a turned page, else in parts, each with the first column. No column is narrower than
 * its longest word.
 */
export function tableParts(
  columns: readonly MeasuredColumn[],
  page: PageWidths,
): readonly TablePart[] {
  const all = columns.map((_, i) => i);
  const pages = [
    ...tableTexts_pt.map((text_pt) => ({ text_pt, turned: false })),
    ...tableTexts_pt.map((text_pt) => ({ text_pt, turned: true })),
  ].map((one) => ({ ...one, page_pt: one.turned ? page.turned_pt : page.upright_pt }));
  for (const one of pages) {
    const sizes = columns.map((column) => sizesOf(column, one.text_pt));
    if (sum(sizes.map(({ least_pt }) => least_pt)) <= one.page_pt) return [part(all, sizes, one)];
  }
  const [text_pt] = tableTexts_pt;
  const sizes = columns.map((column) => sizesOf(column, text_pt));
  const last = { text_pt, turned: true, page_pt: page.turned_pt };
  return groupsOf(sizes, page.turned_pt).map((group) => part(group, sizes, last));
}

/** A page that a table may stand on, and the size of its letters there. */
interface Place {
  readonly page_pt: number;
  readonly text_pt: number;
  readonly turned: boolean;
}

interface Sizes {
  /** Of the longest word. */
  readonly least_pt: number;
  /** Of the longest text on one line, within reason. */
  readonly whole_pt: number;
}

const longestLine_pt = 260;

function sizesOf({ texts }: MeasuredColumn, text_pt: number): Sizes {
  const width = (text: string, i: number) =>
    slack * textWidth(text.replaceAll("\u2060", ""), text_pt, i === 0 ? "bold" : "normal");
  const least = Math.max(
    0,
    ...texts.flatMap((text, i) => piecesOf(text).map((one) => width(one, i))),
  );
  const whole = Math.max(0, ...texts.map(width));
  const least_pt = least + cellGap_pt;
  return { least_pt, whole_pt: Math.max(least_pt, Math.min(longestLine_pt, whole + cellGap_pt)) };
}

/** What is left over goes to columns by what they lack. */
function part(
  columns: readonly number[],
  sizes: readonly Sizes[],
  { page_pt, text_pt, turned }: Place,
): TablePart {
  const own = columns.map((i) => sizes[i] as Sizes);
  const least = sum(own.map(({ least_pt }) => least_pt));
  const lacking = sum(own.map(({ least_pt, whole_pt }) => whole_pt - least_pt));
  const share = lacking === 0 ? 0 : Math.min(1, Math.max(0, (page_pt - least) / lacking));
  const widths_pt = own.map(({ least_pt, whole_pt }) =>
    Number((least_pt + share * (whole_pt - least_pt)).toFixed(2)),
  );
  return { columns, widths_pt, text_pt, turned };
}

/** The first column stands in each group; the others follow as long as they fit. */
function groupsOf(sizes: readonly Sizes[], page_pt: number): readonly (readonly number[])[] {
  const first_pt = sizes[0]?.least_pt ?? 0;
  const groups: number[][] = [];
  let used_pt = Number.POSITIVE_INFINITY;
  for (let i = 1; i < sizes.length; i++) {
    const least_pt = sizes[i]?.least_pt ?? 0;
    if (used_pt + least_pt > page_pt) {
      groups.push([0]);
      used_pt = first_pt;
    }
    groups.at(-1)?.push(i);
    used_pt += least_pt;
  }
  return groups;
}

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
