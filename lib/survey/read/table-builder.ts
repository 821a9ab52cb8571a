import type { FaultLog } from "../check/faults.js";
import { type CsvRecord, checkHeader } from "./csv.js";
import type { ResourceDescriptor } from "./descriptor.js";
import { tableOfColumns } from "./filled-table.js";
import { GrowingNumbers } from "./growing.js";
import { hasDecimalCommas, repeatsHeader } from "./recognise.js";
import type { Table } from "./table.js";
import {
  type ColumnReader,
  type ColumnsAsked,
  columnReaders,
  openNumberColumns,
} from "./table-columns.js";
import {
  checkColumns,
  roleFields,
  saysLaterHeader,
  saysOtherSeparator,
  withoutUnitsRow,
} from "./table-header.js";

/** Takes a file's records in, batch by batch. */
export class TableBuilder {
  readonly #resource: ResourceDescriptor;
  readonly #log: FaultLog;
  #header: readonly string[] | null = null;
  #readers: readonly ColumnReader[] | null = null;
  readonly #line = new GrowingNumbers();
  readonly #repeated: number[] = [];
  #overlong = 0;
  /** The header is not one: it was said, and nothing is read. */
  #isUnreadable = false;
  #count = 0;

  constructor(resource: ResourceDescriptor, log: FaultLog) {
    this.#resource = resource;
    this.#log = log;
  }

  add(batch: readonly CsvRecord[]): void {
    if (batch.length === 0) return;
    let records = this.#header === null ? this.#begin(batch) : batch;
    const header = this.#header!;
    if (records.length === 0 || header.length === 0 || this.#isUnreadable) return;
    if (this.#readers === null) {
      this.#readers = this.#plan(records);
      const numberColumns = this.#readers
        .filter(({ plan }) => plan.type === "number")
        .map(({ plan }) => header.indexOf(plan.name));
      records = withoutUnitsRow(records, { numberColumns, file: this.#resource.path }, this.#log);
    }
    for (const record of records) {
      if (this.#isHeader(record, header)) continue;
      const isSound = this.#isSound(record, header);
      for (const reader of this.#readers) reader.read(record, isSound, this.#log);
      this.#line.push(record.line);
      this.#count += 1;
    }
  }

  /** Takes the header off the first batch, or the schema's names where the file has none. */
  #begin(batch: readonly CsvRecord[]): readonly CsvRecord[] {
    const hasHeader = this.#resource.dialect?.header !== false;
    const names = this.#resource.schema?.fields.map(({ name }) => name) ?? [];
    this.#header = hasHeader ? batch[0]!.cells.map((name) => name.trim()) : names;
    this.#isUnreadable =
      hasHeader &&
      (saysOtherSeparator(this.#header, this.#resource, this.#log) ||
        saysLaterHeader(batch, this.#resource, this.#log));
    if (this.#isUnreadable) return [];
    checkHeader(this.#resource.path, this.#header, this.#log);
    if (this.#header.length > 0) checkColumns(this.#asked(this.#header), this.#resource, this.#log);
    return hasHeader ? batch.slice(1) : batch;
  }

  #asked(header: readonly string[]): ColumnsAsked {
    const { path, schema } = this.#resource;
    return { file: path, header, schema, wanted: roleFields(this.#resource) };
  }

  #plan(records: readonly CsvRecord[]): readonly ColumnReader[] {
    const asked = this.#asked(this.#header!);
    if (!hasDecimalCommas(records, openNumberColumns(asked))) {
      return columnReaders(asked, undefined);
    }
    const text = "decimals have a comma, which no decimalChar says; read so";
    this.#log.caution(`${this.#resource.path}: ${text}`);
    return columnReaders(asked, ",");
  }

  #isHeader(record: CsvRecord, header: readonly string[]): boolean {
    const isRepeated = repeatsHeader(record, header);
    if (isRepeated) this.#repeated.push(record.line);
    return isRepeated;
  }

  /** As long as the header; blank cells too many at a row's end do no harm and are counted. */
  #isSound({ cells, line }: CsvRecord, header: readonly string[]): boolean {
    if (cells.length === header.length) return true;
    if (cells.length > header.length) {
      const isBlank = cells.slice(header.length).every((cell) => cell.trim() === "");
      if (isBlank) this.#overlong += 1;
      if (isBlank) return true;
    }
    const rule = `${header.length} cells long, as the header`;
    const fault = { code: "ragged-row", file: this.#resource.path, row: line, rule };
    this.#log.add({ ...fault, value: `${cells.length} cell${cells.length === 1 ? "" : "s"}` });
    return false;
  }

  done(): Table | null {
    const file = this.#resource.path;
    if (this.#header === null) {
      this.#log.add({ code: "empty-file", file, rule: "filled", value: "an empty file" });
      return null;
    }
    if (this.#header.length === 0) {
      const rule = "described by a schema, having no header";
      this.#log.add({ code: "no-schema", file, rule, value: "no schema" });
      return null;
    }
    if (this.#isUnreadable) return null;
    this.#sayWhatWasPassedOver();
    this.#readers ??= columnReaders(this.#asked(this.#header), undefined);
    return tableOfColumns({
      resource: this.#resource,
      count: this.#count,
      row: Int32Array.from(this.#line.done()),
      readers: this.#readers,
    });
  }

  #sayWhatWasPassedOver(): void {
    const file = this.#resource.path;
    const repeated = this.#repeated;
    if (repeated.length > 0) {
      const rows = `row${repeated.length === 1 ? "" : "s"} ${listed(repeated)}`;
      this.#log.caution(`${file}: the header is there again in ${rows}; not read as data`);
    }
    if (this.#overlong > 0) {
      const rows = `${this.#overlong.toLocaleString("en")} row${this.#overlong === 1 ? "" : "s"}`;
      this.#log.caution(`${file}: ${rows} with blank cells beyond the header; those are not read`);
    }
  }
}

function listed(rows: readonly number[]): string {
  const shown = rows.slice(0, 5).join(", ");
  return rows.length > 5 ? `${shown} and ${(rows.length - 5).toLocaleString("en")} more` : shown;
}
