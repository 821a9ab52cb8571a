import type { FieldNote } from "../../notes.js";
import type { CsvTable } from "../../read/table/csv-table.js";
import type { FaultLog } from "../faults.js";
import { LAST_YEAR } from "../plausible-times.js";

/** Notes' chainages and coordinates may be told apart by this, m. */
const APART_M = 50;
/** Notes are of the bank and its foot, m. */
const FAR_M = 200;
/** Metal along more of the bank than this leaves nothing to interpret. */
const MOST_COVERED = 0.5;

/** Notes field notes that contradict themselves or leave little of the bank. */
export function noteFieldNotes(
  notes: readonly FieldNote[],
  { file, length_m }: { readonly file: string; readonly length_m: number },
  log: FaultLog,
): void {
  for (const { row, kind, object, from_m, to_m, located_m, offset_m } of notes) {
    const note = (text: string) => log.caution(`${file} row ${row}: ${text}`);
    const off_m = Math.max(from_m - (located_m ?? from_m), (located_m ?? to_m) - to_m);
    if (off_m > APART_M) {
      note(
        `its coordinates lie at ${located_m?.toFixed(0)} m, ${off_m.toFixed(0)} m off its chainage`,
      );
    }
    if (kind === "metal" && object === "") note("metal without a word on what it is");
    if (kind === "metal" && to_m - from_m > MOST_COVERED * length_m) {
      note(`metal along ${(to_m - from_m).toFixed(0)} of ${length_m.toFixed(0)} m of bank`);
    }
    if (Math.abs(offset_m ?? 0) > FAR_M) note(`${offset_m} m from the centreline; in m?`);
  }
}

/** Before this nothing of a bank was noted that is of use today. */
const FIRST_YEAR = 1700;

/** Logs incidents of impossible years. */
export function checkIncidents({ rows }: CsvTable, log: FaultLog): void {
  for (const row of rows) {
    const year = Number(row.text("date").slice(0, 4));
    if (row.text("date") === "" || (year >= FIRST_YEAR && year <= LAST_YEAR)) continue;
    const rule = `of the years ${FIRST_YEAR} to ${LAST_YEAR}`;
    const value = `"${row.text("date")}"`;
    log.add({ code: "year-range", ...row.place("date"), rule, value });
  }
}
