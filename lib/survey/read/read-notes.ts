import { firstOf, itemAt, lastOf } from "../../numerics/arrays.js";
import { orNull } from "../../numerics/statistics/present.js";
import { quoted } from "../../step/step-error.js";
import { chainageAt } from "../bank/position.js";
import type { FaultLog } from "../check/faults.js";
import { noteFieldNotes } from "../check/ground/notes.js";
import type { FieldNote } from "../notes.js";
import { checkChainages } from "./frame/check-chainages.js";
import { type Frame, locate } from "./frame/locate.js";
import type { CsvRow, CsvTable } from "./table/csv-table.js";

interface NotesContext {
  readonly frame: Frame;
  readonly campaigns: ReadonlySet<string>;
}

/** Field notes; those with coordinates get their chainage from the centreline. */
export function readNotes(
  table: CsvTable,
  { frame, campaigns }: NotesContext,
  log: FaultLog,
): readonly FieldNote[] {
  checkChainages(table, ["from_m", "to_m"], { frame, log });
  const positions = locate(table, frame, log);
  for (const row of table.rows) checkStretch(row, log);
  for (const row of table.rows) checkCampaign(row, campaigns, log);
  const ofFile = table.resource.campaign ?? null;
  const notes = table.rows.map((row, i) => {
    const at = chainageAt(frame.centreline, itemAt(positions, i));
    const isStated = !isWithoutStretch(row);
    const isLocated = isStated && !Number.isNaN(at.chainage_m);
    return {
      row: row.line,
      kind: row.text("kind") as FieldNote["kind"],
      object: row.text("object"),
      from_m: isStated ? row.number("from_m") : at.chainage_m,
      to_m: isStated ? row.number("to_m") : at.chainage_m,
      ...(isLocated ? { located_m: at.chainage_m } : {}),
      offset_m: row.numberOrNull("offset_m") ?? (isStated ? null : orNull(at.offset_m)),
      time_s: row.numberOrNull("time"),
      campaign: row.text("campaign") || ofFile,
      text: row.text("text"),
    };
  });
  const { chainage_m } = frame.centreline;
  const length_m = lastOf(chainage_m) - firstOf(chainage_m);
  noteFieldNotes(notes, { file: table.file, length_m }, log);
  return notes;
}

function isWithoutStretch(row: CsvRow): boolean {
  return row.isBlank("from_m") && row.isBlank("to_m");
}

/** A note gives both chainages, or coordinates instead. */
function checkStretch(row: CsvRow, log: FaultLog): void {
  if (isWithoutStretch(row)) {
    if (!row.isBlank("longitude") || !row.isBlank("easting")) return;
    const rule = "given, or longitude and latitude instead";
    const value = "a blank cell";
    log.add({ code: "note-without-position", ...row.place("from_m"), rule, value });
  } else if (row.isBlank("from_m") || row.isBlank("to_m")) {
    const [field, other] = row.isBlank("from_m") ? ["from_m", "to_m"] : ["to_m", "from_m"];
    const rule = `given where ${other} is; equal for a point`;
    log.add({ code: "half-stretch", ...row.place(field), rule, value: "a blank cell" });
  } else if (row.number("from_m") > row.number("to_m")) {
    const rule = `at most to_m (${row.number("to_m")})`;
    const value = String(row.number("from_m"));
    log.add({ code: "stretch-reversed", ...row.place("from_m"), rule, value });
  }
}

function checkCampaign(row: CsvRow, known: ReadonlySet<string>, log: FaultLog): void {
  const label = row.text("campaign");
  if (label === "" || known.has(label)) return;
  const rule = `one of the campaigns ${[...known].join(", ")}, or blank for all`;
  const value = quoted(label);
  log.add({ code: "unknown-campaign", ...row.place("campaign"), rule, value });
}
