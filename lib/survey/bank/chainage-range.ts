import type { FaultLog } from "../check/faults.js";
import type { Table } from "../read/table.js";
import type { Frame } from "./locate.js";

/** Logs chainages that lie further beyond the centreline's ends than a position may lie from it. */
export function checkChainages(
  table: Table,
  fields: readonly string[],
  { frame, log }: { readonly frame: Frame; readonly log: FaultLog },
): void {
  const s = frame.centreline.chainage_m;
  const first_m = s[0]! - frame.farFromCentreline_m;
  const last_m = s[s.length - 1]! + frame.farFromCentreline_m;
  const rule = `a chainage of the centreline, ${s[0]!.toFixed(1)} to ${s[s.length - 1]!.toFixed(1)} m`;
  for (const field of fields) {
    for (const [i, chainage_m] of table.numbers(field).entries()) {
      if (Number.isNaN(chainage_m) || (chainage_m >= first_m && chainage_m <= last_m)) continue;
      const place = { file: table.file, row: table.row[i]!, field };
      log.add({ code: "chainage-range", ...place, rule, value: String(chainage_m) });
    }
  }
}
