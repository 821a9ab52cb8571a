/** One column of a table that is written, made from the cells of a raw row. */
export interface FieldPlan {
  readonly name: string;
  readonly type: "datetime" | "date" | "number" | "integer" | "string";
  /** What it is, for the schema. */
  readonly title: string;
  /** The columns of the raw file. */
  readonly from: readonly string[];
  /** How they are read, in words. */
  readonly how: string;
  /** Without it the row is no row. */
  readonly isNeeded: boolean;
  /** The cell; "" where there is no value, a cause where the raw cell cannot be read. */
  readonly write: (cells: readonly string[]) => string | { readonly cause: string };
}

const UNREADABLE = Object.freeze({ cause: "a cell that cannot be read" });

export function unreadable(): { readonly cause: string } {
  return UNREADABLE;
}

/** A cell of CSV. */
export function csvCell(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
