import { quoted } from "../../../step/step-error.js";
import type { FaultLog } from "../../check/faults.js";
import type { ResistivityLine, ResistivityReading } from "../../resistivity-line.js";
import type { LinePlacement, Role } from "../package/descriptor.js";
import { PACKAGE_FILE } from "../package/package-schema.js";
import type { CsvRow, CsvTable } from "../table/csv-table.js";
import { checkSpread } from "./check-spread.js";
import { electrodesOf } from "./electrodes.js";

interface LineTables {
  readonly electrodes: readonly CsvTable[];
  readonly readings: readonly CsvTable[];
  /** False where a file of the role could not be read, or not its field. */
  readonly complete: (role: Role, field: string) => boolean;
}

/** Resistivity lines: placement, electrodes by number, readings in file order. */
export function readLines(tables: LineTables, log: FaultLog): readonly ResistivityLine[] {
  const placements = placementsOf(tables.electrodes, log);
  const electrodes = electrodesOf(tables.electrodes, placements, log);
  const areKnown = ["line", "electrode"].every((field) =>
    tables.complete("resistivity-electrodes", field),
  );
  const readings = tables.readings.flatMap((table) =>
    table.rows.map((row) => {
      const reading = readingOf(row, table.resource.campaign ?? null);
      if (areKnown) checkSpread(row, { spread: reading, electrodes }, log);
      return { line: row.text("line"), reading };
    }),
  );
  return [...placements.values()].map(({ line, runs, chainage_m, offset_m }) => ({
    ...{ line, runs, chainage_m, offset_m },
    electrodes: [...(electrodes.get(line)?.values() ?? [])].sort(
      (one, other) => one.electrode - other.electrode,
    ),
    readings: readings.filter((entry) => entry.line === line).map(({ reading }) => reading),
  }));
}

function placementsOf(
  tables: readonly CsvTable[],
  log: FaultLog,
): ReadonlyMap<string, LinePlacement> {
  const placements = new Map<string, LinePlacement>();
  for (const { resource } of tables) {
    for (const placement of resource.lines ?? []) {
      if (placements.has(placement.line)) {
        const place = { file: PACKAGE_FILE, field: `resource ${resource.name}, lines` };
        const value = `${quoted(placement.line)} twice`;
        log.add({ code: "duplicate-line", ...place, rule: "one entry a line", value });
      }
      placements.set(placement.line, placement);
    }
  }
  return placements;
}

function readingOf(row: CsvRow, campaignOfFile: string | null): ResistivityReading {
  return {
    row: row.line,
    ...row.numbers("a", "b", "m", "n", "current_mA", "voltage_mV", "deviation_pct"),
    ...row.numbersOrNull("repeat"),
    campaign: row.text("campaign") || campaignOfFile,
  };
}
