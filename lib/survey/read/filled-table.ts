import type { ResourceDescriptor } from "./descriptor.js";
import type { Table } from "./table.js";
import type { ColumnReader } from "./table-columns.js";

/** The table that the columns' readers have filled. */
export function tableOfColumns(made: {
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
