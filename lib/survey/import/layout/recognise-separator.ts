import type { RawLine } from "../text/raw-lines.js";
import { shapeOf } from "../values/shape.js";
import { SEPARATORS, type Separator, splitCells } from "./cells.js";

export interface RecognisedSeparator {
  readonly separator: Separator;
  /** Cells a line of data has. */
  readonly count: number;
  /** The share of the lines of data that it parts into so many sound cells, 0 to 1. */
  readonly share: number;
}

/**
 * The separator that parts the lines of data best: into equally many cells, each of which is one
 * value. Null where none gives two cells or more.
 */
export function recogniseSeparator(lines: readonly RawLine[]): RecognisedSeparator | null {
  const data = lines.filter(({ text }) => isDataLike(text)).slice(0, MOST_LINES);
  const all = SEPARATORS.map((separator) => scored(data, separator));
  return all.reduce<RecognisedSeparator | null>((best, one) => {
    if (one.count < 2) return best;
    return best === null || one.share > best.share + LEAD ? one : best;
  }, null);
}

const MOST_LINES = 500;
/** A separator further down the list must part so many more of the lines. */
const LEAD = 0.02;

/** True for a line that is mostly digits. */
export function isDataLike(text: string): boolean {
  const digits = text.match(/\d/g)?.length ?? 0;
  const letters = text.match(/\S/g)?.length ?? 0;
  return digits >= 3 && digits >= 0.35 * letters;
}

function scored(data: readonly RawLine[], separator: Separator): RecognisedSeparator {
  const rows = data.map(({ text }) => splitCells(text, separator));
  const counts = new Map<number, number>();
  for (const { length } of rows) counts.set(length, (counts.get(length) ?? 0) + 1);
  const [count = 0] = [...counts].sort(([, one], [, other]) => other - one)[0] ?? [];
  const even = rows.filter((cells) => cells.length === count);
  const sound = even.reduce((sum, cells) => sum + soundShare(cells), 0);
  return { separator, count, share: data.length === 0 ? 0 : sound / data.length };
}

function soundShare(cells: readonly string[]): number {
  return cells.filter(isOneValue).length / Math.max(1, cells.length);
}

/** A value, or a word that holds no list of values. */
function isOneValue(cell: string): boolean {
  return shapeOf(cell) !== "word" || !/[;|\t]|\d[,:;]?\s*[,;\s]\s*[-+]?\d/.test(cell);
}
