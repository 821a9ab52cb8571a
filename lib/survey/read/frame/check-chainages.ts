import { firstOf, lastOf } from "../../../numerics/arrays.js";
import type { FaultLog } from "../../check/faults.js";
import type { CsvTable } from "../table/csv-table.js";
import type { Frame } from "./locate.js";

/** Logs chainages further beyond the centreline's ends than a position may lie from it. */
export function checkChainages(
  { rows }: CsvTable,
  fields: readonly string[],
  { frame, log }: { readonly frame: Frame; readonly log: FaultLog },
): void {
  const { centreline, farFromCentreline_m: far_m } = frame;
  const [first_m, last_m] = [firstOf(centreline.chainage_m), lastOf(centreline.chainage_m)];
  const rule = `a chainage of the centreline, ${first_m.toFixed(1)} to ${last_m.toFixed(1)} m`;
  for (const field of fields) {
    for (const row of rows) {
      const chainage_m = row.number(field);
      if (!(chainage_m < first_m - far_m || chainage_m > last_m + far_m)) continue;
      log.add({ code: "chainage-range", ...row.place(field), rule, value: String(chainage_m) });
    }
  }
}
