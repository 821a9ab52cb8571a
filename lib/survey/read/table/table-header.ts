import { firstOf, itemAt } from "../../../numerics/arrays.js";
import { quoted } from "../../../step/step-error.js";
import type { FaultLog } from "../../check/faults.js";
import type { ResourceDescriptor } from "../package/descriptor.js";
import { ROLE_FIELDS, type RoleField } from "../package/roles.js";
import type { CsvRecord } from "./csv.js";
import { isUnitsRow, likelyDelimiter, linesBeforeHeader, SEPARATOR_NAMES } from "./recognise.js";
import type { ColumnsAsked } from "./table-columns.js";

/** Every column's name that the schema or the role knows. */
export function knownNames(resource: ResourceDescriptor): ReadonlySet<string> {
  const inSchema = resource.schema?.fields.map(({ name }) => name) ?? [];
  return new Set([...inSchema, ...roleFields(resource).map(({ name }) => name)]);
}

/** The role's columns, and the channels of a file that carries an instrument. */
export function roleFields(resource: ResourceDescriptor): readonly RoleField[] {
  const own = resource.role === "centreline" ? [] : ROLE_FIELDS[resource.role];
  const channels = resource.instrument?.channels ?? [];
  const needed = resource.role === "readings" ? ({ needed: "column" } as const) : {};
  const measured = new Set(channels.map(({ field }) => field));
  return [...own, ...[...measured].map((name) => ({ name, type: "number" as const, ...needed }))];
}

/** Logs columns that are absent, and notes which are not of the schema. */
export function checkColumns(
  asked: ColumnsAsked,
  resource: ResourceDescriptor,
  log: FaultLog,
): void {
  const { file, header, schema, wanted } = asked;
  const inSchema = schema?.fields.map(({ name }) => name);
  const needed = wanted.filter((field) => field.needed).map(({ name }) => name);
  for (const name of new Set([...needed, ...(inSchema ?? [])])) {
    if (header.includes(name)) continue;
    const place = { file, row: 1, field: name, hint: missingHint(name, header) };
    const rule = "a column of the file";
    log.add({ code: "missing-column", ...place, rule, value: "no such column" });
  }
  if (inSchema === undefined) {
    log.caution(`${file} has no schema; its columns are read as the role ${resource.role} asks`);
    return;
  }
  checkSchemaHolds(asked, resource, log);
}

function missingHint(name: string, header: readonly string[]): string | null {
  const near = header.find((other) => other.toLowerCase() === name.toLowerCase());
  if (near !== undefined) return `the file has ${quoted(near)}; case matters`;
  const longer = header.find(
    (other) => other.startsWith(name) && /^\s*[[(]/.test(other.slice(name.length)),
  );
  return longer === undefined
    ? null
    : `the file has ${quoted(longer)}; take the unit out of the name`;
}

/** Logs a header of one cell that another separator than the declared one would part. */
export function isOtherSeparator(
  header: readonly string[],
  resource: ResourceDescriptor,
  log: FaultLog,
): boolean {
  const declared = resource.dialect?.delimiter;
  const [only = "", ...more] = header;
  if (declared === undefined || more.length > 0) return false;
  const likely = likelyDelimiter(only, knownNames(resource));
  if (likely === declared || !only.includes(likely)) return false;
  const named = SEPARATOR_NAMES[declared] ?? quoted(declared);
  const fault = { code: "separator", file: resource.path, row: 1 };
  const rule = `separated by ${named}, as its dialect says`;
  log.add({ ...fault, rule, value: `cells separated by ${SEPARATOR_NAMES[likely]}` });
  return true;
}

/** Logs lines before the header as one fault, not one for each column. */
export function isLaterHeader(
  batch: readonly CsvRecord[],
  resource: ResourceDescriptor,
  log: FaultLog,
): boolean {
  const needed = roleFields(resource).filter((field) => field.needed);
  const names = needed.map(({ name }) => name);
  const before = linesBeforeHeader(batch, names);
  if (before === 0) return false;
  const first = firstOf(batch);
  const place = { file: resource.path, row: first.line };
  const value = quoted(first.cells.join(","));
  const hint = `the header stands in row ${itemAt(batch, before).line}; delete the rows before it`;
  log.add({ code: "no-header", ...place, rule: "the header", value, hint });
  return true;
}

/** Logs a row of units under the header as one fault, not one a column, and passes it over. */
export function withoutUnitsRow(
  records: readonly CsvRecord[],
  { numberColumns, file }: { readonly numberColumns: readonly number[]; readonly file: string },
  log: FaultLog,
): readonly CsvRecord[] {
  const first = firstOf(records);
  if (!isUnitsRow(first, numberColumns)) return records;
  const value = quoted(first.cells.join(","));
  const hint = "looks like a row of units; delete it";
  const fault = { code: "units-row", file, row: first.line, rule: "the first row of data" };
  log.add({ ...fault, value, hint });
  return records.slice(1);
}

/** A column outside the schema is no part of the data package; a channel must not be such a one. */
function checkSchemaHolds(asked: ColumnsAsked, resource: ResourceDescriptor, log: FaultLog): void {
  const { file, header, schema, wanted } = asked;
  const inSchema = new Set(schema?.fields.map(({ name }) => name));
  const channels = new Set(resource.instrument?.channels.map(({ field }) => field));
  for (const name of header) {
    if (inSchema.has(name) || name === "") continue;
    if (channels.has(name)) {
      const place = { file, row: 1, field: name };
      const rule = "a field of the resource's schema, being a channel";
      log.add({ code: "channel-not-in-schema", ...place, rule, value: "no such field" });
    } else if (wanted.some((field) => field.name === name)) {
      log.caution(`${file}: column ${name} is not in the schema; read as its role asks`);
    } else {
      log.caution(`${file}: column ${name} is not in the schema and is not read`);
    }
  }
}
