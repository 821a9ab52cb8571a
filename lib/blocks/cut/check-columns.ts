import { type Fault, quoted } from "../../step/step-error.js";

/** Every fault of columns, and of noise variances that are not one for each of them. */
export function changePointFaults(
  columns: readonly ArrayLike<number>[],
  { noise }: { readonly noise: readonly number[] | null },
): readonly Fault[] {
  const samples = columns[0]?.length ?? 0;
  if (!(samples > 0)) {
    const received = columns.length === 0 ? "no column" : "an empty column";
    const expected = "columns of at least one sample";
    return [{ code: "empty", path: "columns", expected, received }];
  }
  return [
    ...columns.flatMap((column, c) => [
      ...lengthFault(column, c, samples),
      ...sampleFault(column, c),
    ]),
    ...noiseFault(noise, columns.length),
  ];
}

function lengthFault(column: ArrayLike<number>, c: number, samples: number): Fault[] {
  if (column.length === samples) return [];
  const expected = `${samples} samples long, like columns[0]`;
  const received = String(column.length);
  return [{ code: "column-length", path: `columns[${c}]`, expected, received }];
}

function sampleFault(column: ArrayLike<number>, c: number): Fault[] {
  const all = Array.from(column);
  const first = all.findIndex((value) => !usable(value));
  if (first < 0) return [];
  const count = all.filter((value) => !usable(value)).length;
  const received = `${quoted(column[first])} (${count} such values)`;
  const path = `columns[${c}][${first}]`;
  return [{ code: "value", path, expected: "a finite number, or NaN where missing", received }];
}

const usable = (value: unknown) =>
  typeof value === "number" && value !== Number.POSITIVE_INFINITY && value !== -Infinity;

function noiseFault(noise: readonly number[] | null, columns: number): Fault[] {
  if (noise === null || noise.length === columns) return [];
  const expected = `one variance for each of the ${columns} columns`;
  const received = `${noise.length} values`;
  return [{ code: "option-range", path: "options.noise", expected, received }];
}
