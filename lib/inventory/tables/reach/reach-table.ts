import type { ReachRecord } from "../../record/reach-record.js";
import type { StoredRow, StoredTable } from "../stored-table.js";

/** A table that every reach fills from its record; rows begin with reach and campaign. */
export interface ReachTable extends StoredTable {
  readonly rows: (record: ReachRecord) => readonly StoredRow[];
}
