import { quoted } from "../../../step/step-error.js";
import type { FaultLog } from "../../check/faults.js";
import type { TableField, TableSchema } from "../package/descriptor.js";
import type { RoleField } from "../package/roles.js";
import { type ColumnPlan, planColumn } from "./column.js";
import type { CsvRecord } from "./csv.js";
import type { CsvColumn } from "./csv-table.js";
import { GrowingNumbers, GrowingTexts } from "./growing.js";

/** One column of a file while it is read; what cannot be read becomes NaN or "". */
export class ColumnReader {
  readonly plan: ColumnPlan;
  readonly #index: number;
  readonly #file: string;
  readonly #seen = new Set<number | string>();
  readonly #blanks = new GrowingNumbers(Uint8Array);
  readonly #numbers: GrowingNumbers<Float64Array> | null;
  readonly #texts: GrowingTexts | null;

  constructor(plan: ColumnPlan, index: number, file: string) {
    this.plan = plan;
    this.#index = index;
    this.#file = file;
    const isText = plan.type === "text" || plan.type === "date" || plan.type === "boolean";
    this.#numbers = isText ? null : new GrowingNumbers(Float64Array);
    this.#texts = isText ? new GrowingTexts() : null;
  }

  /** Reads the column's cell of a record; of one that is not as long as the header, nothing. */
  read(record: CsvRecord, isSound: boolean, log: FaultLog): void {
    const cell = record.cells[this.#index] ?? "";
    const isBlank = isSound && (cell.trim() === "" || this.plan.missing.has(cell));
    this.#blanks.push(isBlank ? 1 : 0);
    const value = isSound ? this.#value(cell, isBlank, { record, log }) : null;
    this.#numbers?.push(value === null ? Number.NaN : Number(value));
    this.#texts?.push(value === null ? "" : String(value));
  }

  /** What was read. */
  done(): CsvColumn {
    return {
      name: this.plan.name,
      numbers: this.#numbers?.done() ?? null,
      texts: this.#texts?.done() ?? null,
      blanks: this.#blanks.done(),
    };
  }

  #value(cell: string, isBlank: boolean, at: Place): number | string | null {
    const { plan } = this;
    if (isBlank) {
      if (plan.filled) this.#fault({ code: "blank", rule: "given" }, "a blank cell", at);
      return null;
    }
    const value = plan.read(cell);
    if (typeof value === "object") {
      this.#fault(value, quoted(cell), at);
      return null;
    }
    const broken = brokenRule(plan, value);
    if (broken) this.#fault(broken, quotedCell(cell, value), at);
    if (plan.unique) this.#checkUnique(cell, value, at);
    return broken ? null : value;
  }

  #checkUnique(cell: string, value: number | string, at: Place): void {
    if (this.#seen.has(value)) {
      this.#fault({ code: "not-unique", rule: "unique" }, quotedCell(cell, value), at);
    }
    this.#seen.add(value);
  }

  #fault(fault: { readonly code: string; readonly rule: string }, value: string, at: Place): void {
    const place = { file: this.#file, row: at.record.line, field: this.plan.name };
    at.log.add({ ...fault, ...place, value });
  }
}

interface Place {
  readonly record: CsvRecord;
  readonly log: FaultLog;
}

function brokenRule(plan: ColumnPlan, value: number | string) {
  for (const rule of plan.rules) {
    const fault = rule(value);
    if (fault !== null) return fault;
  }
  return null;
}

/** A number that was read as one is quoted bare. */
function quotedCell(cell: string, value: number | string): string {
  return typeof value === "number" ? cell.trim() : quoted(cell);
}

export interface ColumnsAsked {
  readonly file: string;
  readonly header: readonly string[];
  readonly schema: TableSchema | undefined;
  readonly wanted: readonly RoleField[];
}

/** A reader for each column that the schema or the role names and the file has. */
export function columnReaders(
  { file, header, schema, wanted }: ColumnsAsked,
  decimalChar: string | undefined,
): readonly ColumnReader[] {
  const inSchema = new Map(schema?.fields.map((field) => [field.name, field]));
  const roles = new Map(wanted.map((field) => [field.name, field]));
  const names = [...new Set([...inSchema.keys(), ...roles.keys()])];
  return names
    .filter((name) => header.includes(name))
    .map((name) => {
      const field: TableField = {
        ...(decimalChar && { decimalChar }),
        ...inSchema.get(name),
        name,
      };
      const plan = planColumn(field, roles.get(name), schema?.missingValues ?? [""]);
      return new ColumnReader(plan, header.indexOf(name), file);
    });
}

/** Where the columns of decimal numbers stand whose decimal sign the schema leaves open. */
export function openNumberColumns(asked: ColumnsAsked): readonly number[] {
  const isOpen = ({ plan: { name, type } }: ColumnReader) => {
    const field = asked.schema?.fields.find((one) => one.name === name);
    return type === "number" && (field?.decimalChar ?? field?.groupChar) === undefined;
  };
  return columnReaders(asked, undefined)
    .filter(isOpen)
    .map(({ plan }) => asked.header.indexOf(plan.name));
}
