import type { ResourceDescriptor } from "./descriptor.js";

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
