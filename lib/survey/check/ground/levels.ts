import { groupedBy } from "../../../numerics/arrays.js";
import type { CrossSection } from "../../cross-section.js";
import { utcText } from "../../iso-time.js";
import type { CsvRow, CsvTable } from "../../read/table/csv-table.js";
import type { FaultLog } from "../faults.js";
import { standsForNone } from "../plausible-values.js";
import { noteSimilarNames } from "../similar-names.js";

/** Water at a bank stands within this of its crest, m; further off it is another unit or datum. */
const REFUSED_M = 25;

/** Logs water levels out of reach of the bank, and those that contradict each other. */
export function checkLevels(
  table: CsvTable,
  crossSectionAt: (chainage_m: number) => CrossSection,
  log: FaultLog,
): void {
  const { rows, file } = table;
  for (const row of rows) checkReach(row, crossSectionAt, log);
  checkOnce(rows, log);
  noteSimilarNames(table.texts("point"), { file, what: "points" }, log);
  const lost = rows.filter((row) => row.text("point") !== "river" && row.isBlank("chainage_m"));
  const names = [...new Set(lost.map((row) => row.text("point")))];
  if (names.length === 0) return;
  log.caution(`${file}: ${names.join(", ")} without a chainage; not placed along the bank`);
}

function checkReach(
  row: CsvRow,
  crossSectionAt: (chainage_m: number) => CrossSection,
  log: FaultLog,
): void {
  const crest_m = crossSectionAt(row.numberOrNull("chainage_m") ?? 0).crestElevation_m;
  const level_m = row.number("level_m");
  if (crest_m === null || Number.isNaN(level_m) || standsForNone(level_m)) return;
  if (Math.abs(level_m - crest_m) > REFUSED_M) {
    const rule = `within ${REFUSED_M} m of the crest, ${crest_m.toFixed(1)} m`;
    const hint = "another unit, or another datum?";
    const place = row.place("level_m");
    log.add({ code: "level-far", ...place, rule, value: String(level_m), hint });
  } else if (level_m > crest_m) {
    const at = `${row.place(null).file} row ${row.line}`;
    log.caution(`${at}: a level of ${level_m} m is above the crest, ${crest_m.toFixed(1)} m`);
  }
}

/** One point has one level at one time. */
function checkOnce(rows: readonly CsvRow[], log: FaultLog): void {
  const keyOf = (row: CsvRow) => `${row.text("point")} at ${utcText(row.number("time"))}`;
  for (const [key, group] of groupedBy(rows, keyOf)) {
    const [first, ...others] = group;
    for (const row of others) {
      const [was, is] = [first?.number("level_m"), row.number("level_m")];
      if (was === is) continue;
      const rule = `${was}, as in row ${first?.line} (${key})`;
      log.add({ code: "level-twice", ...row.place("level_m"), rule, value: String(is) });
    }
  }
}
