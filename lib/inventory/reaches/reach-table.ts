import type { FaultLog } from "../../survey/check/faults.js";
import { type CsvRecord, csvBatches } from "../../survey/read/table/csv.js";
import { REACH_NAME, type ReachRow, reachNameRule } from "./reach.js";

const COMPULSORY = ["reach", "folder"] as const;

/** The rows of a table of reaches that can be used; every fault goes into the log. */
export function reachesOfTable(text: string, file: string, log: FaultLog): readonly ReachRow[] {
  const [header, ...records] = recordsOf(text, file, log);
  const names = header?.cells.map((cell) => cell.trim()) ?? [];
  const missing = COMPULSORY.filter((name) => !names.includes(name));
  for (const field of missing) {
    const value = header === undefined ? "an empty file" : names.join(",");
    log.add({ code: "missing-column", file, row: 1, field, rule: "a column of the table", value });
  }
  checkTwice(
    names.map((value) => ({ value, row: 1 })),
    { file, field: null, log },
  );
  if (missing.length > 0) return [];
  const rows = records.map((record) => rowOf(record, names));
  for (const row of rows) checkRow(row, { file, log });
  for (const field of COMPULSORY) {
    const values = rows.map((row) => ({ row: row.row, value: comparable(field, row[field]) }));
    checkTwice(values, { file, field, log });
  }
  return rows.filter(({ reach, folder }) => REACH_NAME.test(reach) && folder !== "");
}

function recordsOf(text: string, file: string, log: FaultLog): readonly CsvRecord[] {
  const source = { file, pieces: [text.replace(/^\uFEFF/, "")], dialect: {}, delimiter: "," };
  return [...csvBatches(source, log)].flat();
}

function rowOf({ cells, line }: CsvRecord, names: readonly string[]): ReachRow {
  const of = (name: string) => cells[names.indexOf(name)]?.trim() ?? "";
  const further = names.filter((name) => name !== "" && name !== "reach" && name !== "folder");
  const details = Object.fromEntries(further.map((name) => [name, of(name)]));
  return { reach: of("reach"), folder: of("folder").replace(/\/+$/, ""), details, row: line };
}

interface Place {
  readonly file: string;
  readonly log: FaultLog;
}

function checkRow({ reach, folder, row }: ReachRow, { file, log }: Place): void {
  if (!REACH_NAME.test(reach)) {
    const value = JSON.stringify(reach);
    log.add({ code: "reach-name", file, row, field: "reach", rule: reachNameRule, value });
  }
  if (folder === "") {
    const rule = "the path of a survey folder";
    log.add({ code: "missing-value", file, row, field: "folder", rule, value: "nothing" });
  }
}

/** Names that differ by case alone are one folder on some machines. */
const comparable = (field: string, value: string) =>
  field === "reach" ? value.toLowerCase() : value.replace(/^\.\//, "");

function checkTwice(
  values: readonly { readonly value: string; readonly row: number | null }[],
  { file, field, log }: Place & { readonly field: string | null },
): void {
  const first = new Map<string, number | null>();
  for (const { value, row } of values) {
    if (value === "") continue;
    if (!first.has(value)) first.set(value, row);
    else {
      const rule = `one of its own (row ${first.get(value)} has it)`;
      log.add({ code: "given-twice", file, row, field, rule, value: JSON.stringify(value) });
    }
  }
}
