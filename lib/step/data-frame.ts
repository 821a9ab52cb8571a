import type { DataFrame } from "danfojs-node";
import { type Given, resultValue } from "./step-result.js";

/** Rows as plain objects: a step's table, or any list of records. */
export type Records = readonly { readonly [field: string]: unknown }[];

/**
 * Rows as a danfo.js data frame, to sort, filter and group in a notebook.
 *
 * @param rows - a table of a result, a list of records, or a result whose value is one. Values that
 *   are neither number, text nor yes/no (lists, nested records) become their JSON text; what a
 *   record lacks is NaN.
 * @returns a data frame with one column a field, in the order in which the fields first occur.
 * @throws RangeError where there is no row: a data frame needs one to know its columns.
 * @example (await toDataFrame([{ block: "B1", from_m: 0 }])).shape // [1, 2]
 */
export async function toDataFrame(
  rows: Given<Records> | { readonly rows: Records },
): Promise<DataFrame> {
  const given = "rows" in rows ? rows.rows : resultValue(rows);
  if (given.length === 0)
    throw new RangeError("toDataFrame: rows must hold at least one row, got none");
  const fields = [...new Set(given.flatMap((row) => Object.keys(row)))];
  const values = given.map((row) => fields.map((field) => cellOf(row[field])));
  const danfo = await import("danfojs-node");
  return new danfo.DataFrame(values, { columns: fields });
}

function cellOf(value: unknown): string | number | boolean {
  if (value === null || value === undefined) return Number.NaN;
  if (typeof value === "number" || typeof value === "boolean") return value;
  return typeof value === "string" ? value : JSON.stringify(value);
}
