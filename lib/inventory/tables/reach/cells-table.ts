import { column, partitionColumns } from "../stored-table.js";
import type { ReachTable } from "./reach-table.js";

export const cellsTable: ReachTable = {
  name: "cells",
  meaning: "Evidence of seepage along the main line, cell by cell; only what is known.",
  columns: [
    ...partitionColumns,
    column("piece", "text", "Name of the piece of evidence."),
    column("chainage_m", "real", "Middle of the cell, m."),
    column("value", "real", "0 (absent) to 1 (present)."),
  ],
  key: ["reach", "campaign", "piece", "chainage_m"],
  rows: ({ reach, campaign, cells }) =>
    Object.entries(cells.pieces).flatMap(([piece, values]) =>
      values.flatMap((value, i) => {
        const x = cells.chainage_m[i];
        return value === null || x === undefined ? [] : [[reach, campaign, piece, x, value]];
      }),
    ),
};
