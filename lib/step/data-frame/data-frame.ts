import type { DataFrame } from "danfojs-node";
import { entryOf, itemAt } from "../../numerics/arrays.js";
import { type Given, resultValue } from "../step-result.js";
import { danfo } from "./danfo.js";
import { type Cell, type Columns, recordColumns } from "./record-columns.js";
import { type AlongChainage, stationColumns } from "./station-columns.js";

/** What makes a data frame: records, a table of a result, or a value along chainage. */
export type FrameSource = Given<
  readonly object[] | { readonly rows: readonly object[] } | AlongChainage
>;

/**
 * Records, a table or a value along chainage as a danfo.js data frame, to sort, filter and group in
 * a notebook.
 *
 * Nested fields have columns of their own, the unit last in the name: an interval
 * (`fromInterval_m`) has `fromInterval_low_m` and `fromInterval_high_m`; a list by slice
 * (`resistivity_ohm_m`) has `resistivity_0.0-0.5_ohm_m` for the median and
 * `resistivity_0.0-0.5_p10_ohm_m` for its other numbers; a list of named records
 * (`evidence`) has `evidence_structure_weight` and so on; an object has one for each member. Any
 * other list is a text with commas.
 *
 * @param source - a list of records (`result.value.blocks`), a table of a result, or a value with n
 *   chainages (depth slices, seepage), of which each station is a row and its columns by slice,
 *   such as `sd_0.0-0.5`, are kept. Results stand for their values.
 * @returns a data frame with its columns in the order in which the fields first occur. Its index is
 *   the chainage where there is `chainage_m`, else `from_m`; where these are missing or not unique
 *   it counts from 0. They stay columns too. What is missing is NaN.
 * @throws RangeError where there is no row: a data frame needs one to know its columns.
 * @example
 * const frame = await toDataFrame(blocks.value.blocks);
 * frame.columns.slice(0, 5);
 * // ["id", "from_m", "to_m", "fromInterval_low_m", "fromInterval_high_m"]
 */
export async function toDataFrame(source: FrameSource): Promise<DataFrame> {
  const columns = columnsOf(resultValue(source));
  const names = [...columns.keys()];
  const [first = []] = columns.values();
  if (first.length === 0) {
    throw new RangeError("toDataFrame: rows must hold at least one row, got none");
  }
  const rows = first.map((_, i) => names.map((name) => itemAt(entryOf(columns, name), i)));
  const { DataFrame } = await danfo();
  return new DataFrame(rows, { columns: names, index: indexOf(columns, first.length) });
}

function columnsOf(
  source: readonly object[] | { readonly rows: readonly object[] } | AlongChainage,
): Columns {
  if ("chainage_m" in source) return stationColumns(source);
  return recordColumns("rows" in source ? source.rows : source);
}

function indexOf(columns: Columns, rows: number): number[] {
  const along = columns.get("chainage_m") ?? columns.get("from_m") ?? [];
  const index = along.filter((value): value is number & Cell => Number.isFinite(value));
  if (new Set(index).size === rows) return index;
  return Array.from({ length: rows }, (_, i) => i);
}
