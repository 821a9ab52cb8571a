import type { Channel } from "../instrument.js";
import type { CsvRow, CsvTable } from "../read/table/csv-table.js";
import type { FaultLog } from "./faults.js";

/** Rows that must be the same, and their share, before a walk is taken for another's copy. */
const FEWEST = 4;
const SHARE = 0.5;

/**
 * Logs a walk that is given twice, whole or in part, under another name or date: the same values at
 * the same places (without positions, at the same times) would count every reading twice.
 */
export function checkRepeatedWalks(tables: readonly CsvTable[], log: FaultLog): void {
  for (const [i, table] of tables.entries()) {
    checkRepeatedRows(table, log);
    for (const earlier of tables.slice(0, i)) {
      const shared = sharedFields(earlier, table);
      if (shared.length === 0 || earlier.file === table.file) continue;
      const known = new Set(earlier.rows.flatMap((row) => keyOf(row, shared, 0) ?? []));
      const keys = table.rows.flatMap((row) => keyOf(row, shared, 1) ?? []);
      const same = keys.filter((key) => known.has(key)).length;
      if (same < FEWEST || same < SHARE * Math.min(known.size, keys.length)) continue;
      const rule = `another walk than ${earlier.file}`;
      const value = `${same} of ${keys.length} readings the same`;
      log.add({ code: "duplicate-pass", file: table.file, rule, value });
      break;
    }
  }
}

/** Logs rows that stand in one file twice, one after the other in the same order. */
function checkRepeatedRows(table: CsvTable, log: FaultLog): void {
  const own = (table.resource.instrument?.channels ?? []).map(
    ({ field }): FieldPair => [field, field],
  );
  const keys = table.rows.map((row) => keyOf(row, own, 0));
  const places = table.rows.map((row) => placeOf(row).join("/"));
  const first = new Map<string | null, number>();
  for (const [i, key] of keys.entries()) if (!first.has(key)) first.set(key, i);
  // At row i: how many rows up to it follow each other as they did before.
  let run = 0;
  for (const [i, key] of keys.entries()) {
    const at = first.get(key) ?? i;
    // Whoever stands still may well read the same again.
    const isAgain = key !== null && at < i - 1 && places[i] !== places[i - 1];
    const goesOn = run === 0 || first.get(keys[i - 1] ?? null) === at - 1;
    run = isAgain ? (goesOn ? run + 1 : 1) : 0;
    if (run < REPEATED) continue;
    const place = { file: table.file, row: table.row[i - run + 1] ?? null };
    const rule = `other readings than from row ${table.row[at - run + 1]} on`;
    log.add({ code: "duplicate-rows", ...place, rule, value: `${REPEATED} rows or more the same` });
    return;
  }
}

/** So many rows at the same places with the same values are no chance. */
const REPEATED = 8;

type FieldPair = readonly [earlier: string, later: string];

/** The fields of channels that both have. */
function sharedFields(one: CsvTable, other: CsvTable): readonly FieldPair[] {
  const coils = ({ kind, frequency_Hz, separation_m, orientation }: Channel) =>
    [kind, frequency_Hz, separation_m, orientation].join("/");
  const others = new Map(
    (other.resource.instrument?.channels ?? []).map((channel) => [coils(channel), channel.field]),
  );
  return (one.resource.instrument?.channels ?? []).flatMap((channel) => {
    const field = others.get(coils(channel));
    return field === undefined ? [] : [[channel.field, field] as const];
  });
}

/** What a row reads and where; null where it says too little. */
function keyOf(row: CsvRow, fields: readonly FieldPair[], side: 0 | 1): string | null {
  const values = fields.map((pair) => row.number(pair[side]));
  if (values.every(Number.isNaN)) return null;
  const place = placeOf(row);
  const known = place.some((value) => !Number.isNaN(value)) ? place : [row.number("time")];
  return known.every(Number.isNaN) ? null : [...known, ...values].join("/");
}

function placeOf(row: CsvRow): readonly number[] {
  return ["longitude", "latitude", "easting", "northing"].map((name) => row.number(name));
}
