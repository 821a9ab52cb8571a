import { quoted } from "../../../step/step-error.js";
import type { FaultLog } from "../../check/faults.js";
import type { ResistivityLine } from "../../resistivity-line.js";
import type { LinePlacement } from "../package/descriptor.js";
import { PACKAGE_FILE } from "../package/package-schema.js";
import type { CsvRow, CsvTable } from "../table/csv-table.js";

type Electrode = ResistivityLine["electrodes"][number];

/** Electrodes by line and number. */
export type ByLine = ReadonlyMap<string, ReadonlyMap<number, Electrode>>;

/** The electrodes of all lines; of one that is given twice, the later. */
export function electrodesOf(
  tables: readonly CsvTable[],
  placements: ReadonlyMap<string, LinePlacement>,
  log: FaultLog,
): ByLine {
  const byLine = new Map<string, Map<number, Electrode>>();
  for (const row of tables.flatMap(({ rows }) => rows)) {
    const { line } = row.texts("line");
    const { electrode, ...at } = row.numbers("electrode", "x_m", "elevation_m");
    if (line === "" || Number.isNaN(electrode)) continue;
    const own = byLine.get(line) ?? new Map<number, Electrode>();
    byLine.set(line, own);
    if (!placements.has(line)) {
      const rule = `placed by an entry of "lines" in ${PACKAGE_FILE}`;
      log.add({ code: "line-not-placed", ...row.place("line"), rule, value: quoted(line) });
    }
    checkElectrode(row, own, log);
    own.set(electrode, { electrode, ...at });
  }
  return byLine;
}

/** Logs an electrode that its line has, and one at another's place. */
function checkElectrode(row: CsvRow, own: ReadonlyMap<number, Electrode>, log: FaultLog): void {
  const { electrode, x_m } = row.numbers("electrode", "x_m");
  if (own.has(electrode)) {
    const rule = `given once in line ${row.text("line")}`;
    const value = String(electrode);
    log.add({ code: "duplicate-electrode", ...row.place("electrode"), rule, value });
    return;
  }
  const there = [...own.values()].find((one) => one.x_m === x_m);
  if (there === undefined) return;
  const rule = `another place than that of electrode ${there.electrode}`;
  log.add({ code: "electrode-place", ...row.place("x_m"), rule, value: String(x_m) });
}
