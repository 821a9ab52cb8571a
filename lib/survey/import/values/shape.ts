import { readClock } from "./clock-text.js";
import { dateParts } from "./date-text.js";
import { dateTimeText } from "./date-time-text.js";
import { isDegrees } from "./degrees.js";
import { isNumber } from "./number-form.js";

export type Shape = "blank" | "number" | "date" | "clock" | "datetime" | "degrees" | "word";

const MARK_FOR_NONE = /^(n\.?[/.]?a\.?|nan|null|none|nil|-+|\*+|\?+|#n\/?a|inf|-inf)$/i;

/** True for what loggers write in words where they have nothing. */
export function isMarkForNone(cell: string): boolean {
  return MARK_FOR_NONE.test(cell);
}

/** What a cell looks like. */
export function shapeOf(cell: string): Shape {
  if (cell === "" || isMarkForNone(cell)) return "blank";
  if (isNumber(cell.replace(/^[−–]/, "-"))) return "number";
  if (dateParts(cell) !== null) return "date";
  if (readClock(cell) !== null) return "clock";
  if (dateTimeText(cell) !== null) return "datetime";
  return isDegrees(cell) ? "degrees" : "word";
}

/** The shape that most filled cells have, and which share of them. */
export function commonShape(cells: readonly string[]): { shape: Shape; share: number } {
  const counts = new Map<Shape, number>();
  let filled = 0;
  for (const cell of cells) {
    const shape = shapeOf(cell);
    if (shape === "blank") continue;
    filled += 1;
    counts.set(shape, (counts.get(shape) ?? 0) + 1);
  }
  let [best, most]: [Shape, number] = ["blank", 0];
  for (const [shape, count] of counts) if (count > most) [best, most] = [shape, count];
  return { shape: best, share: filled === 0 ? 1 : most / filled };
}
