import type { CrossSection } from "../cross-section.js";
import type { CsvTable } from "../read/table/csv-table.js";
import type { FaultLog } from "./faults.js";

/** A hole beside a bank starts within this of its crest's level, m; further off is another unit. */
const NOTED_M = 25;
const REFUSED_M = 100;

/** Logs boreholes that start far above or below the crest at their chainage. */
export function checkElevations(
  { rows }: CsvTable,
  crossSectionAt: (chainage_m: number) => CrossSection,
  log: FaultLog,
): void {
  for (const row of rows) {
    const { crestElevation_m, foundationElevation_m } = crossSectionAt(row.number("chainage_m"));
    const level_m = crestElevation_m ?? foundationElevation_m ?? Number.NaN;
    const elevation_m = row.number("elevation_m");
    const off_m = Math.abs(elevation_m - level_m);
    const rule = `within ${REFUSED_M} m of the bank's level there, ${level_m.toFixed(1)} m`;
    if (off_m > REFUSED_M) {
      const place = row.place("elevation_m");
      log.add({ code: "elevation-far", ...place, rule, value: String(elevation_m) });
    } else if (off_m > NOTED_M) {
      const at = `${row.place(null).file} row ${row.line}`;
      log.caution(
        `${at}: borehole ${row.text("borehole")} starts ${off_m.toFixed(0)} m off the bank`,
      );
    }
  }
}
