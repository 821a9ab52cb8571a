import { type CsvRecord, checkHeader, csvBatches } from "./csv.js";
import type { ResourceDescriptor } from "./descriptor.js";
import type { FaultLog } from "./faults.js";
import { NotDecodable, piecesOf, type SurveyFile } from "./folder.js";
import { GrowingNumbers } from "./growing.js";
import { hasDecimalCommas, likelyDelimiter, repeatsHeader, SEPARATOR_NAMES } from "./recognise.js";
import {
  type ColumnReader,
  type ColumnsAsked,
  columnReaders,
  openNumberColumns,
} from "./table-columns.js";
import { checkColumns, namesOf, roleFields, saysOtherSeparator } from "./table-header.js";

/** A CSV file as typed columns; what could not be read is NaN or "". */
export interface Table {
  readonly resource: ResourceDescriptor;
  readonly file: string;
  readonly count: number;
  /** n line numbers in the file. */
  readonly row: Int32Array;
  readonly has: (field: string) => boolean;
  /** n entries: 1 where the cell is blank, as the schema's missing values have it. */
  readonly blank: (field: string) => Uint8Array;
  /** n numbers, times as s since 1970; NaN where blank, faulty, or without such a column. */
  readonly numbers: (field: string) => Float64Array;
  /** n texts; "" where blank or without such a column. */
  readonly texts: (field: string) => readonly string[];
}

export interface ReadTableOptions {
  readonly log: FaultLog;
  /** Told the share of the file that has been read, 0 to 1; the event loop gets a turn each time. */
  readonly progress?: (share: number) => void;
}

/** Reads a CSV resource by its dialect, its schema and its role. Null where there is no header. */
export async function readTable(
  file: SurveyFile,
  resource: ResourceDescriptor,
  { log, progress }: ReadTableOptions,
): Promise<Table | null> {
  const source = { file, share: 0 };
  const builder = new TableBuilder(resource, log);
  try {
    const pieces = counted(source, resource.encoding ?? "utf-8");
    const delimiter = delimiterOf(file, resource, log);
    const dialect = resource.dialect ?? {};
    for (const batch of csvBatches({ file: file.path, pieces, dialect, delimiter }, log)) {
      builder.add(batch);
      if (source.share < 1) {
        progress?.(source.share);
        await new Promise((resolve) => setImmediate(resolve));
      }
    }
  } catch (error) {
    if (!(error instanceof NotDecodable)) throw error;
    log.add({ ...error.fault, file: file.path });
    return null;
  }
  progress?.(1);
  return builder.done();
}

function* counted(source: { readonly file: SurveyFile; share: number }, encoding: string) {
  for (const { text, share } of piecesOf(source.file.bytes, encoding)) {
    source.share = share;
    yield text;
  }
}

/** The dialect's separator, else the one that the header shows, which is said. */
function delimiterOf(file: SurveyFile, resource: ResourceDescriptor, log: FaultLog): string {
  const declared = resource.dialect?.delimiter;
  const likely = likelyDelimiter(firstLineOf(file, resource), namesOf(resource));
  if (declared !== undefined || likely === ",") return declared ?? ",";
  const named = SEPARATOR_NAMES[likely];
  log.caution(`${file.path}: cells are separated by ${named}, which no dialect says; read so`);
  return likely;
}

function firstLineOf(file: SurveyFile, resource: ResourceDescriptor): string {
  const start = piecesOf(file.bytes.subarray(0, 65_536), resource.encoding ?? "utf-8", "start");
  const lines = [...start]
    .map(({ text }) => text)
    .join("")
    .split(/[\r\n]+/);
  return lines.find((line) => line.trim() !== "") ?? "";
}

/** Takes a file's records in, batch by batch. */
class TableBuilder {
  readonly #resource: ResourceDescriptor;
  readonly #log: FaultLog;
  #header: readonly string[] | null = null;
  #readers: readonly ColumnReader[] | null = null;
  readonly #line = new GrowingNumbers();
  readonly #repeated: number[] = [];
  #overlong = 0;
  #isSplitWrongly = false;
  #count = 0;

  constructor(resource: ResourceDescriptor, log: FaultLog) {
    this.#resource = resource;
    this.#log = log;
  }

  add(batch: readonly CsvRecord[]): void {
    if (batch.length === 0) return;
    const records = this.#header === null ? this.#begin(batch) : batch;
    const header = this.#header!;
    if (records.length === 0 || header.length === 0 || this.#isSplitWrongly) return;
    this.#readers ??= this.#plan(records);
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
    checkHeader(this.#resource.path, this.#header, this.#log);
    this.#isSplitWrongly = hasHeader && saysOtherSeparator(this.#header, this.#resource, this.#log);
    if (this.#isSplitWrongly) return [];
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
    if (this.#isSplitWrongly) return null;
    this.#sayWhatWasPassedOver();
    this.#readers ??= columnReaders(this.#asked(this.#header), undefined);
    return tableOf({
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

function tableOf(made: {
  readonly resource: ResourceDescriptor;
  readonly count: number;
  readonly row: Int32Array;
  readonly readers: readonly ColumnReader[];
}): Table {
  const { resource, count, row, readers } = made;
  const numeric = new Map<string, Float64Array>();
  const textual = new Map<string, readonly string[]>();
  const blanks = new Map<string, Uint8Array>();
  for (const { plan, numbers, texts, blanks: blank } of readers) {
    if (numbers !== null) numeric.set(plan.name, numbers.done());
    if (texts !== null) textual.set(plan.name, texts.done());
    blanks.set(plan.name, blank.done());
  }
  return {
    resource,
    file: resource.path,
    count,
    row,
    blank: (field) => blanks.get(field) ?? new Uint8Array(count).fill(1),
    has: (field) => numeric.has(field) || textual.has(field),
    numbers: (field) => numeric.get(field) ?? new Float64Array(count).fill(Number.NaN),
    texts: (field) => textual.get(field) ?? new Array<string>(count).fill(""),
  };
}
