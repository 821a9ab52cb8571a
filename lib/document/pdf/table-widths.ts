import { textWidth } from "../../step/show/text-width.js";
import { piecesOf } from "./paper-text.js";

/** Size of letters in tables, pt, and what stands free on both sides of a cell's text. */
export const tableText_pt = 7.5;
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
  /** True where only a page turned to landscape holds it. */
  readonly turned: boolean;
}

export interface PageWidths {
  readonly upright_pt: number;
  readonly turned_pt: number;
}

/**
 * How a table stands on paper: upright where its longest words fit, else on a turned page, else in
 * parts, each with the first column. No column is narrower than its longest word.
 */
export function tableParts(
  columns: readonly MeasuredColumn[],
  page: PageWidths,
): readonly TablePart[] {
  const sizes = columns.map(sizesOf);
  const all = columns.map((_, i) => i);
  const least = sum(sizes.map(({ least_pt }) => least_pt));
  if (least <= page.upright_pt) return [part(all, sizes, page.upright_pt, false)];
  if (least <= page.turned_pt) return [part(all, sizes, page.turned_pt, true)];
  return groupsOf(sizes, page.turned_pt).map((group) => part(group, sizes, page.turned_pt, true));
}

interface Sizes {
  /** Of the longest word. */
  readonly least_pt: number;
  /** Of the longest text on one line, within reason. */
  readonly whole_pt: number;
}

const longestLine_pt = 260;

function sizesOf({ texts }: MeasuredColumn): Sizes {
  const width = (text: string, i: number) =>
    slack * textWidth(text.replaceAll("\u2060", ""), tableText_pt, i === 0 ? "bold" : "normal");
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
  page_pt: number,
  turned: boolean,
): TablePart {
  const own = columns.map((i) => sizes[i] as Sizes);
  const least = sum(own.map(({ least_pt }) => least_pt));
  const lacking = sum(own.map(({ least_pt, whole_pt }) => whole_pt - least_pt));
  const share = lacking === 0 ? 0 : Math.min(1, Math.max(0, (page_pt - least) / lacking));
  const widths_pt = own.map(({ least_pt, whole_pt }) =>
    Number((least_pt + share * (whole_pt - least_pt)).toFixed(2)),
  );
  return { columns, widths_pt, turned };
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
