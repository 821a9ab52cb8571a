import { accountTable } from "./reach/account-table.js";
import { blocksTable } from "./reach/blocks-table.js";
import { cellsTable } from "./reach/cells-table.js";
import { changesTable } from "./reach/changes-table.js";
import { findingsTable } from "./reach/findings-table.js";
import { holesTable } from "./reach/holes-table.js";
import { levelsTable } from "./reach/levels-table.js";
import type { ReachTable } from "./reach/reach-table.js";
import { unknownTable } from "./reach/unknown-table.js";
import { zonesTable } from "./reach/zones-table.js";

/** The tables of every reach, partitioned by reach and campaign. */
export const reachTables: readonly ReachTable[] = [
  findingsTable,
  blocksTable,
  levelsTable,
  changesTable,
  zonesTable,
  holesTable,
  cellsTable,
  unknownTable,
  accountTable,
];
