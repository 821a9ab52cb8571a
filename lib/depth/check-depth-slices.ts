import { firstOf } from "../numerics/arrays.js";
import { type Fault, quoted } from "../step/step-error.js";
import type { DepthSlices } from "./depth-slices.js";

/** Every fault of hand-made depth slices: shapes, spacing, order, infinite values. */
export function depthSlicesFaults(given: DepthSlices, path: string): Fault[] {
  const shape = { n: given.chainage_m.length, k: given.slices.length };
  return [
    ...spacingFaults(given, path),
    ...columnFaults(given.log10Resistivity, shape, `${path}.log10Resistivity`),
    ...columnFaults(given.sd, shape, `${path}.sd`),
    ...given.sd.flatMap((column, k) => firstFault(column, `${path}.sd[${k}]`, NEGATIVE)),
    ...countFault(given.gap.length, shape.n, `${path}.gap`),
  ];
}

interface Wrong {
  readonly wrong: (value: number) => boolean;
  readonly expected: string;
}

const INFINITE: Wrong = {
  wrong: (value) => Math.abs(value) === Number.POSITIVE_INFINITY,
  expected: "a finite number, or NaN where there is no estimate",
};
const NEGATIVE: Wrong = { wrong: (value) => value < 0, expected: "at least 0" };

function spacingFaults(given: DepthSlices, path: string): Fault[] {
  const { chainage_m, spacing_m } = given;
  if (!(spacing_m > 0 && spacing_m < Number.POSITIVE_INFINITY)) {
    const received = quoted(spacing_m);
    return [{ code: "spacing", path: `${path}.spacing_m`, expected: "above 0", received }];
  }
  const uneven = chainage_m.findIndex(
    (x, i) => !(Math.abs(x - (firstOf(chainage_m) + i * spacing_m)) <= 1e-3 * spacing_m),
  );
  if (uneven < 0) return [];
  const expected = `rising from station to station by spacing_m (${spacing_m} m)`;
  const received = quoted(chainage_m[uneven]);
  return [{ code: "spacing", path: `${path}.chainage_m[${uneven}]`, expected, received }];
}

function columnFaults(
  columns: readonly Float64Array[],
  shape: { readonly n: number; readonly k: number },
  path: string,
): Fault[] {
  return [
    ...countFault(columns.length, shape.k, path),
    ...columns.flatMap((column, k) => [
      ...countFault(column.length, shape.n, `${path}[${k}]`),
      ...firstFault(column, `${path}[${k}]`, INFINITE),
    ]),
  ];
}

function countFault(received: number, count: number, path: string): Fault[] {
  if (received === count) return [];
  return [{ code: "length", path, expected: `${count} long`, received: String(received) }];
}

function firstFault(column: Float64Array, path: string, { wrong, expected }: Wrong): Fault[] {
  const first = column.findIndex(wrong);
  if (first < 0) return [];
  const received = `${column[first]} (${column.filter(wrong).length} such values)`;
  return [{ code: "value", path: `${path}[${first}]`, expected, received }];
}
