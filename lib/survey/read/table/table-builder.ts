import { countText } from "../../../step/show/html.js";
import type { FaultLog } from "../../check/faults.js";
import type { ResourceDescriptor } from "../package/descriptor.js";
import { type CsvRecord, checkHeader } from "./csv.js";
import { CsvTable } from "./csv-table.js";
import { hasDecimalCommas, repeatsHeader } from "./recognise.js";
import {
  type ColumnReader,
  type ColumnsAsked,
  columnReaders,
  openNumberColumns,
} from "./table-columns.js";
import {
  checkColumns,
  isLaterHeader,
  isOtherSeparator,
  roleFields,
  withoutUnitsRow,
} from "./table-header.js";

/** A week of readings at one a second: more is kept in memory by nobody's survey. */
const MOST_ROWS = 500_000;

/** Takes a file's records in, batch by batch. */
export class TableBuilder {
  readonly #resource: ResourceDescriptor;
  readonly #log: FaultLog;
  #header: readonly string[] | null = null;
  #readers: readonly ColumnReader[] | null = null;
  readonly #lines: number[] = [];
  readonly #repeated: number[] = [];
  #overlong = 0;
  #isFull = false;
  /** The header is not one: that is logged, and nothing is read. */
  #isUnreadable = false;

  constructor(resource: ResourceDescriptor, log: FaultLog) {
    this.#resource = resource;
    this.#log = log;
  }

  add(batch: readonly CsvRecord[]): void {
    const [first] = batch;
    if (first === undefined) return;
    let records = this.#header === null ? this.#begin(first, batch) : batch;
    const header = this.#header ?? [];
    const isDone = this.#isUnreadable || this.#isFull;
    if (records.length === 0 || header.length === 0 || isDone) return;
    if (this.#readers === null) {
      this.#readers = this.#plan(records, header);
      const numberColumns = this.#readers
        .filter(({ plan }) => plan.type === "number")
        .map(({ plan }) => header.indexOf(plan.name));
      records = withoutUnitsRow(records, { numberColumns, file: this.#resource.path }, this.#log);
    }
    for (const record of records) {
      if (this.#lines.length === MOST_ROWS) {
        this.#refuseFurther(record);
        return;
      }
      if (this.#isHeader(record, header)) continue;
      const isSound = this.#isSound(record, header);
      for (const reader of this.#readers) reader.read(record, isSound, this.#log);
      this.#lines.push(record.line);
    }
  }

  #refuseFurther({ line }: CsvRecord): void {
    this.#isFull = true;
    const rule = `the last row of ${MOST_ROWS.toLocaleString("en")} at the most`;
    const hint = "divide the file, a walk a file";
    const place = { file: this.#resource.path, row: line };
    this.#log.add({ code: "row-count", ...place, rule, value: "another row", hint });
  }

  /** Takes the header off the first batch, or the schema's names where the file has none. */
  #begin(first: CsvRecord, batch: readonly CsvRecord[]): readonly CsvRecord[] {
    const hasHeader = this.#resource.dialect?.header !== false;
    const names = this.#resource.schema?.fields.map(({ name }) => name) ?? [];
    const header = hasHeader ? first.cells.map((name) => name.trim()) : names;
    this.#header = header;
    this.#isUnreadable =
      hasHeader &&
      (isOtherSeparator(header, this.#resource, this.#log) ||
        isLaterHeader(batch, this.#resource, this.#log));
    if (this.#isUnreadable) return [];
    checkHeader(this.#resource.path, header, this.#log);
    if (header.length > 0) checkColumns(this.#asked(header), this.#resource, this.#log);
    return hasHeader ? batch.slice(1) : batch;
  }

  #asked(header: readonly string[]): ColumnsAsked {
    const { path, schema } = this.#resource;
    return { file: path, header, schema, wanted: roleFields(this.#resource) };
  }

  #plan(records: readonly CsvRecord[], header: readonly string[]): readonly ColumnReader[] {
    const asked = this.#asked(header);
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
    this.#log.add({ ...fault, value: countText(cells.length, "cell") });
    return false;
  }

  done(): CsvTable | null {
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
    this.#notePassedOver();
    this.#readers ??= columnReaders(this.#asked(this.#header), undefined);
    const columns = this.#readers.map((reader) => reader.done());
    return new CsvTable(this.#resource, Int32Array.from(this.#lines), columns);
  }

  #notePassedOver(): void {
    const file = this.#resource.path;
    const repeated = this.#repeated;
    if (repeated.length > 0) {
      const rows = `row${repeated.length === 1 ? "" : "s"} ${listed(repeated)}`;
      this.#log.caution(`${file}: the header is there again in ${rows}; not read as data`);
    }
    if (this.#overlong > 0) {
      const rows = countText(this.#overlong, "row");
      this.#log.caution(`${file}: ${rows} with blank cells beyond the header; those are not read`);
    }
  }
}

function listed(rows: readonly number[]): string {
  const shown = rows.slice(0, 5).join(", ");
  return rows.length > 5 ? `${shown} and ${(rows.length - 5).toLocaleString("en")} more` : shown;
}
