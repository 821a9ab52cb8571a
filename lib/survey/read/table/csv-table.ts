import { orNull } from "../../../numerics/statistics/present.js";
import type { ResourceDescriptor } from "../package/descriptor.js";

/** A column of a file; what could not be read is NaN or "". */
export interface CsvColumn {
  readonly name: string;
  /** n numbers, times as s since 1970; null for a column of texts. */
  readonly numbers: Float64Array | null;
  readonly texts: readonly string[] | null;
  /** n entries: 1 where the cell is blank, as the schema's missing values have it. */
  readonly blanks: Uint8Array;
}

/** A CSV file as typed columns. */
export class CsvTable {
  readonly resource: ResourceDescriptor;
  /** n line numbers in the file. */
  readonly row: Int32Array;
  readonly #columns: ReadonlyMap<string, CsvColumn>;
  #rows: readonly CsvRow[] | null = null;

  constructor(resource: ResourceDescriptor, row: Int32Array, columns: readonly CsvColumn[]) {
    this.resource = resource;
    this.row = row;
    this.#columns = new Map(columns.map((column) => [column.name, column]));
  }

  get file(): string {
    return this.resource.path;
  }

  get count(): number {
    return this.row.length;
  }

  get rows(): readonly CsvRow[] {
    this.#rows ??= Array.from(this.row, (_, i) => new CsvRow(this, i));
    return this.#rows;
  }

  has(field: string): boolean {
    return this.#columns.has(field);
  }

  column(field: string): CsvColumn | undefined {
    return this.#columns.get(field);
  }

  /** n numbers; NaN where blank, faulty, or without such a column. */
  numbers(field: string): Float64Array {
    return this.column(field)?.numbers ?? new Float64Array(this.count).fill(Number.NaN);
  }

  /** n texts; "" where blank or without such a column. */
  texts(field: string): readonly string[] {
    return this.column(field)?.texts ?? new Array<string>(this.count).fill("");
  }
}

/** One row of a CSV file. */
export class CsvRow {
  readonly #table: CsvTable;
  readonly #index: number;

  constructor(table: CsvTable, index: number) {
    this.#table = table;
    this.#index = index;
  }

  /** Its line in the file. */
  get line(): number {
    return this.#table.row[this.#index] ?? Number.NaN;
  }

  /** NaN where blank, faulty, or without such a column. */
  number(field: string): number {
    return this.#table.column(field)?.numbers?.[this.#index] ?? Number.NaN;
  }

  numberOrNull(field: string): number | null {
    return orNull(this.number(field));
  }

  /** "" where blank or without such a column. */
  text(field: string): string {
    return this.#table.column(field)?.texts?.[this.#index] ?? "";
  }

  /** Several cells by their field; see `number`. */
  numbers<Field extends string>(...fields: Field[]): Record<Field, number> {
    return byField(fields, (field) => this.number(field));
  }

  numbersOrNull<Field extends string>(...fields: Field[]): Record<Field, number | null> {
    return byField(fields, (field) => this.numberOrNull(field));
  }

  texts<Field extends string>(...fields: Field[]): Record<Field, string> {
    return byField(fields, (field) => this.text(field));
  }

  /** True without such a column as well. */
  isBlank(field: string): boolean {
    return this.#table.column(field)?.blanks[this.#index] !== 0;
  }

  /** Where a fault of the row, or of one of its cells, lies. */
  place(field: string | null) {
    return { file: this.#table.file, row: this.line, field };
  }
}

function byField<Field extends string, Value>(
  fields: readonly Field[],
  cellOf: (field: Field) => Value,
) {
  return Object.fromEntries(fields.map((field) => [field, cellOf(field)])) as Record<Field, Value>;
}
