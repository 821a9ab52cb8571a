import { extent } from "../../../numerics/statistics/present.js";
import { quoted } from "../../../step/step-error.js";
import type { FaultLog } from "../../check/faults.js";
import type { ResistivityReading } from "../../resistivity-line.js";
import type { CsvRow } from "../table/csv-table.js";
import type { ByLine } from "./electrodes.js";

interface RowSpread {
  readonly spread: Pick<ResistivityReading, "a" | "b" | "m" | "n">;
  readonly electrodes: ByLine;
}

/** Logs electrodes that the row's line does not have, that stand twice, and pairs both remote. */
export function checkSpread(row: CsvRow, { spread, electrodes }: RowSpread, log: FaultLog): void {
  const line = row.text("line");
  const own = electrodes.get(line);
  if (own === undefined) {
    if (line === "") return;
    const rule = "a line of the electrodes file";
    log.add({ code: "unknown-line", ...row.place("line"), rule, value: quoted(line) });
    return;
  }
  for (const [one, other] of [
    ["a", "b"],
    ["m", "n"],
  ] as const) {
    if (spread[one] !== 0 || spread[other] !== 0) continue;
    const rule = `an electrode of line ${line} where ${one} is remote (0)`;
    log.add({ code: "both-remote", ...row.place(other), rule, value: "0" });
  }
  const used = new Set<number>();
  for (const field of ["a", "b", "m", "n"] as const) {
    const electrode = spread[field];
    if (Number.isNaN(electrode) || electrode === 0) continue;
    const value = String(electrode);
    if (!own.has(electrode)) {
      const { least, most } = extent(own.keys());
      const rule = `an electrode of line ${line} (${least} to ${most}), or 0 for remote`;
      log.add({ code: "unknown-electrode", ...row.place(field), rule, value });
    } else if (used.has(electrode)) {
      const rule = "another electrode than the others of the row";
      log.add({ code: "electrode-repeated", ...row.place(field), rule, value });
    }
    used.add(electrode);
  }
}
