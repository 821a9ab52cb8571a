import { quoted } from "../result/step-error.js";
import { type ColumnPlan, planColumn } from "./column.js";
import { checkShape, parseCsv, type RawTable } from "./csv.js";
import type { ResourceDescriptor, TableField } from "./descriptor.js";
import type { FaultLog } from "./faults.js";
import { ROLE_FIELDS, type RoleField } from "./roles.js";

/** A CSV file as typed columns; what could not be read is NaN or "". */
export interface Table {
  readonly resource: ResourceDescriptor;
  readonly file: string;
  readonly count: number;
  /** n line numbers in the file. */
  readonly row: Int32Array;
  readonly has: (field: string) => boolean;
  /** n entries: true where the cell is blank, as the schema's missing values have it. */
  readonly blank: (field: string) => readonly boolean[];
  /** n numbers, times as s since 1970; NaN where blank, faulty, or without such a column. */
  readonly numbers: (field: string) => Float64Array;
  /** n texts; "" where blank or without such a column. */
  readonly texts: (field: string) => readonly string[];
}

/** Reads a CSV resource by its dialect, its schema and its role. Null where there is no header. */
export function readTable(text: string, resource: ResourceDescriptor, log: FaultLog): Table | null {
  const file = resource.path;
  const fields = resource.schema?.fields ?? [];
  const dialect = resource.dialect ?? {};
  const names = fields.map(({ name }) => name);
  const raw = parseCsv(text, { file, dialect, names }, log);
  if (raw === null || (raw.header.length === 0 && raw.rows.length > 0)) {
    const rule = raw === null ? "a header and rows" : "described by a schema, having no header";
    const value = raw === null ? "an empty file" : "no schema";
    log.add({ code: raw === null ? "empty-file" : "no-schema", file, rule, value });
    return null;
  }
  const sound = checkShape(raw, log);
  const wanted = roleFields(resource);
  checkColumns(raw, { resource, wanted }, log);
  return typed(raw, { resource, wanted, sound }, log);
}

/** The role's columns, and the channels of a file that carries an instrument. */
function roleFields(resource: ResourceDescriptor): readonly RoleField[] {
  const own = resource.role === "centreline" ? [] : ROLE_FIELDS[resource.role];
  const channels = resource.instrument?.channels ?? [];
  const needed = resource.role === "readings" ? ({ needed: "column" } as const) : {};
  const measured = new Set(channels.map(({ field }) => field));
  return [...own, ...[...measured].map((name) => ({ name, type: "number" as const, ...needed }))];
}

interface Wanted {
  readonly resource: ResourceDescriptor;
  readonly wanted: readonly RoleField[];
}

function checkColumns(raw: RawTable, { resource, wanted }: Wanted, log: FaultLog): void {
  const { file, header } = raw;
  const inSchema = resource.schema?.fields.map(({ name }) => name);
  const asked = [
    ...wanted.filter(({ needed }) => needed).map(({ name }) => name),
    ...(inSchema ?? []),
  ];
  for (const name of new Set(asked)) {
    if (header.includes(name)) continue;
    const near = header.find((other) => other.toLowerCase() === name.toLowerCase());
    const hint = near === undefined ? null : `the file has ${quoted(near)}; case matters`;
    const place = { file, row: 1, field: name, hint };
    log.add({
      code: "missing-column",
      ...place,
      rule: "a column of the file",
      value: "no such column",
    });
  }
  if (inSchema === undefined) {
    log.caution(`${file} has no schema; its columns are read as the role ${resource.role} asks`);
    return;
  }
  checkSchemaHolds(raw, { resource, wanted }, log);
}

/** A column outside the schema is no part of the data package; a channel must not be such a one. */
function checkSchemaHolds(raw: RawTable, { resource, wanted }: Wanted, log: FaultLog): void {
  const inSchema = new Set(resource.schema?.fields.map(({ name }) => name));
  const channels = new Set(resource.instrument?.channels.map(({ field }) => field));
  for (const name of raw.header) {
    if (inSchema.has(name) || name === "") continue;
    if (channels.has(name)) {
      const place = { file: raw.file, row: 1, field: name };
      const rule = "a field of the resource's schema, being a channel";
      log.add({ code: "channel-not-in-schema", ...place, rule, value: "no such field" });
    } else if (wanted.some((field) => field.name === name)) {
      log.caution(`${raw.file}: column ${name} is not in the schema; read as its role asks`);
    } else {
      log.caution(`${raw.file}: column ${name} is not in the schema and is not read`);
    }
  }
}

interface TypedBy extends Wanted {
  /** For each row whether it is as long as the header. */
  readonly sound: readonly boolean[];
}

function typed(raw: RawTable, by: TypedBy, log: FaultLog): Table {
  const schema = by.resource.schema;
  const inSchema = new Map(schema?.fields.map((field) => [field.name, field]));
  const roles = new Map(by.wanted.map((field) => [field.name, field]));
  const numeric = new Map<string, Float64Array>();
  const textual = new Map<string, readonly string[]>();
  const blanks = new Map<string, readonly boolean[]>();
  for (const name of new Set([...inSchema.keys(), ...roles.keys()])) {
    const index = raw.header.indexOf(name);
    if (index < 0) continue;
    const field: TableField = inSchema.get(name) ?? { name };
    const plan = planColumn(field, roles.get(name), schema?.missingValues ?? [""]);
    const values = readColumn(raw, { plan, index, sound: by.sound }, log);
    blanks.set(
      name,
      raw.rows.map((cells, i) => by.sound[i]! && isBlank(cells[index]!, plan)),
    );
    if (plan.type === "text" || plan.type === "date" || plan.type === "boolean") {
      textual.set(
        name,
        values.map((value) => (value === null ? "" : String(value))),
      );
    } else {
      numeric.set(
        name,
        Float64Array.from(values, (value) => (value === null ? Number.NaN : Number(value))),
      );
    }
  }
  const count = raw.rows.length;
  return {
    resource: by.resource,
    file: raw.file,
    count,
    row: raw.line,
    blank: (field) => blanks.get(field) ?? new Array<boolean>(count).fill(true),
    has: (field) => numeric.has(field) || textual.has(field),
    numbers: (field) => numeric.get(field) ?? new Float64Array(count).fill(Number.NaN),
    texts: (field) => textual.get(field) ?? new Array<string>(count).fill(""),
  };
}

interface ColumnJob {
  readonly plan: ColumnPlan;
  readonly index: number;
  readonly sound: readonly boolean[];
}

function readColumn(raw: RawTable, job: ColumnJob, log: FaultLog): (number | string | null)[] {
  const { plan, index, sound } = job;
  const seen = new Set<number | string>();
  return raw.rows.map((cells, i) => {
    if (!sound[i]) return null;
    const cell = cells[index]!;
    const place = { file: raw.file, row: raw.line[i]!, field: plan.name };
    if (isBlank(cell, plan)) {
      if (plan.filled) log.add({ code: "blank", ...place, rule: "given", value: "a blank cell" });
      return null;
    }
    const value = plan.read(cell);
    if (typeof value === "object") {
      log.add({ ...value, ...place, value: quoted(cell) });
      return null;
    }
    const broken = plan.rules.map((rule) => rule(value)).find((fault) => fault !== null);
    if (broken) log.add({ ...broken, ...place, value: quotedCell(cell, value) });
    if (plan.unique && seen.has(value)) {
      log.add({ code: "not-unique", ...place, rule: "unique", value: quotedCell(cell, value) });
    }
    seen.add(value);
    return broken ? null : value;
  });
}

function isBlank(cell: string, plan: ColumnPlan): boolean {
  return cell.trim() === "" || plan.missing.has(cell);
}

/** A number that was read as one is quoted bare. */
function quotedCell(cell: string, value: number | string): string {
  return typeof value === "number" ? cell.trim() : quoted(cell);
}
