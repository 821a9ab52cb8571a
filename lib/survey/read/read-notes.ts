import { quoted } from "../../step/step-error.js";
import { checkChainages } from "../bank/chainage-range.js";
import { type Frame, locate } from "../bank/locate.js";
import { chainageAt } from "../bank/position.js";
import type { FaultLog } from "../check/faults.js";
import type { FieldNote } from "../survey.js";
import type { Table } from "./table.js";

/** Field notes; those with coordinates get their chainage from the centreline. */
export function readNotes(
  table: Table,
  { frame, campaigns }: { readonly frame: Frame; readonly campaigns: ReadonlySet<string> },
  log: FaultLog,
): readonly FieldNote[] {
  checkChainages(table, ["from_m", "to_m"], { frame, log });
  const grid = locate(table, frame, log);
  const stretch = stretches(table, log);
  const kind = table.texts("kind") as readonly FieldNote["kind"][];
  const object = table.texts("object");
  const texts = table.texts("text");
  const offset_m = table.numbers("offset_m");
  const time_s = table.numbers("time");
  const campaign = campaignsOf(table, campaigns, log);
  return Array.from({ length: table.count }, (_, i) => {
    const at = chainageAt(frame.centreline, grid[i]!);
    const { from_m, to_m } = stretch[i] ?? { from_m: at.chainage_m, to_m: at.chainage_m };
    return {
      row: table.row[i]!,
      kind: kind[i]!,
      object: object[i]!,
      from_m,
      to_m,
      ...(stretch[i] === null || Number.isNaN(at.chainage_m) ? {} : { located_m: at.chainage_m }),
      offset_m: orNull(offset_m[i]!) ?? (stretch[i] === null ? orNull(at.offset_m) : null),
      time_s: orNull(time_s[i]!),
      campaign: campaign[i]!,
      text: texts[i]!,
    };
  });
}

/** The chainages a note gives; null where it gives none. Faults of both and of none are logged. */
function stretches(table: Table, log: FaultLog) {
  const [from, to] = [table.numbers("from_m"), table.numbers("to_m")];
  const [noFrom, noTo] = [table.blank("from_m"), table.blank("to_m")];
  const [noLon, noEast] = [table.blank("longitude"), table.blank("easting")];
  return Array.from({ length: table.count }, (_, i) => {
    const place = { file: table.file, row: table.row[i]! };
    if (noFrom[i] && noTo[i]) {
      if (noLon[i] && noEast[i]) {
        const rule = "given, or longitude and latitude instead";
        const field = "from_m";
        log.add({ code: "note-without-position", ...place, field, rule, value: "a blank cell" });
      }
      return null;
    }
    if (noFrom[i] !== noTo[i]) {
      const [field, other] = noFrom[i] ? ["from_m", "to_m"] : ["to_m", "from_m"];
      const rule = `given where ${other} is; equal for a point`;
      log.add({ code: "half-stretch", ...place, field, rule, value: "a blank cell" });
    } else if (from[i]! > to[i]!) {
      const rule = `at most to_m (${to[i]})`;
      log.add({
        code: "stretch-reversed",
        ...place,
        field: "from_m",
        rule,
        value: String(from[i]),
      });
    }
    return { from_m: from[i]!, to_m: to[i]! };
  });
}

/** The campaign of each row: its own, else the resource's, else null for all. */
function campaignsOf(table: Table, known: ReadonlySet<string>, log: FaultLog) {
  return table.texts("campaign").map((own, i) => {
    const label = own || table.resource.campaign;
    if (label === undefined) return null;
    if (own !== "" && !known.has(own)) {
      const rule = `one of the campaigns ${[...known].join(", ")}, or blank for all`;
      const place = { file: table.file, row: table.row[i]!, field: "campaign" };
      log.add({ code: "unknown-campaign", ...place, rule, value: quoted(own) });
    }
    return label;
  });
}

function orNull(value: number): number | null {
  return Number.isNaN(value) ? null : value;
}
