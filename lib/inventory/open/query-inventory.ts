import { defineStep, runLongStep } from "../../step/define-step.js";
import type { Table } from "../../step/figure.js";
import { textOption } from "../../step/options/kinds.js";
import type { OptionsOf } from "../../step/options/option.js";
import { StepError } from "../../step/step-error.js";
import { type Given, resultValue, type StepResult } from "../../step/step-result.js";
import type { Inventory } from "./inventory.js";
import { queriedMap } from "./map-figure.js";
import { type QueriedRow, queryTables } from "./query-tables.js";

export const queryOptions = {
  colourBy: textOption({
    default: "",
    meaning: "Column that colours the map of rows with a geometry; empty for one colour.",
  }),
};

/** Options of `queryInventory`, resolved. */
export interface QueryOptions extends OptionsOf<typeof queryOptions> {}

interface Asked {
  readonly folder: string;
  readonly sql: string;
}

const step = defineStep({
  name: "queryInventory",
  options: queryOptions,
  run: ({ folder, sql }: Asked) => queryTables(folder, sql).catch(refused),
  report: (value: readonly QueriedRow[], { colourBy }) => ({
    value,
    summary: `${value.length} ${value.length === 1 ? "row" : "rows"}.`,
    figures: queriedMap(value, colourBy === "" ? null : colourBy),
    tables: [rowsTable(value)],
  }),
});

/**
 * A question to an inventory in DuckDB's SQL. Every table is there under its name: findings,
 * blocks, levels, changes, zones, holes, cells, unknown, account (a row has its reach and
 * campaign), and over all reaches reaches, classes, block_classes, weights, ranking, shared_holes.
 * Rows with a column `geometry` are drawn as a map.
 *
 * @param inventory - what `openInventory` returned.
 * @param sql - one query; without `ORDER BY` the order of rows is that of the files.
 * @param options - `colourBy`: the column that colours the map.
 * @returns the rows, geometry as well-known text; the table shows the first 50.
 * @throws StepError where DuckDB refuses the query, with what it says.
 */
export async function queryInventory(
  inventory: Given<Inventory>,
  sql: string,
  options: Partial<QueryOptions> = {},
): Promise<StepResult<readonly QueriedRow[]>> {
  return runLongStep(step, { folder: resultValue(inventory).folder, sql }, options);
}

function refused(error: unknown): never {
  const received =
    error instanceof Error ? error.message.split("\n").slice(0, 2).join(" ") : "none";
  const expected = "one query that DuckDB understands";
  throw new StepError("queryInventory", [{ code: "sql", path: "sql", expected, received }]);
}

const SHOWN_ROWS = 50;

function rowsTable(rows: readonly QueriedRow[]): Table {
  const names = Object.keys(rows[0] ?? {}).filter((name) => name !== "geometry");
  const first = rows.length > SHOWN_ROWS ? `, the first ${SHOWN_ROWS}` : "";
  return {
    id: "inventory-query",
    caption: `Rows of the query${first}`,
    columns: names.map((name) => ({
      field: name,
      label: name,
      ...(rows.some((row) => isBroken(row[name])) ? { digits: 2 } : {}),
    })),
    rows: rows.slice(0, SHOWN_ROWS).map((row) => {
      return Object.fromEntries(names.map((name) => [name, row[name] ?? null]));
    }),
  };
}

const isBroken = (value: unknown) => typeof value === "number" && !Number.isInteger(value);
