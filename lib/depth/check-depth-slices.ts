import { type Fault, quoted } from "../step/step-error.js";
import type { DepthSlices } from "./depth-slices.js";

/** Every fault of hand-made depth slices: shapes, spacing, order, infinite values. */
export function depthSlicesFaults(given: DepthSlices, path: string): Fault[] {
  const n = given.chainage_m.length;
  return [
    ...spacingFaults(given, path),
    ...columnFaults(
      given.log10Resistivity,
      { n, k: given.slices.length },
      `${path}.log10Resistivity`,
    ),
    ...columnFaults(given.sd, { n, k: given.slices.length }, `${path}.sd`),
    ...given.sd.flatMap((column, k) => negativeFault(column, `${path}.sd[${k}]`)),
    ...countFault(given.gap.length, n, `${path}.gap`),
  ];
}

function spacingFaults(given: DepthSlices, path: string): Fault[] {
  const { chainage_m, spacing_m } = given;
  if (!(spacing_m > 0 && spacing_m < Number.POSITIVE_INFINITY)) {
    const received = quoted(spacing_m);
    return [{ code: "spacing", path: `${path}.spacing_m`, expected: "above 0", received }];
  }
  const uneven = chainage_m.findIndex(
    (x, i) => !(Math.abs(x - (chainage_m[0]! + i * spacing_m)) <= 1e-3 * spacing_m),
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
      ...infiniteFault(column, `${path}[${k}]`),
    ]),
  ];
}

function countFault(received: number, count: number, path: string): Fault[] {
  if (received === count) return [];
  return [{ code: "length", path, expected: `${count} long`, received: String(received) }];
}

function infiniteFault(column: Float64Array, path: string): Fault[] {
  return firstFault(column, path, {
    wrong: (value) => Math.abs(value) === Number.POSITIVE_INFINITY,
    expected: "a finite number, or NaN where there is no estimate",
  });
}

function negativeFault(column: Float64Array, path: string): Fault[] {
  return firstFault(column, path, { wrong: (value) => value < 0, expected: "at least 0" });
}

function firstFault(
  column: Float64Array,
  path: string,
  rule: { readonly wrong: (value: number) => boolean; readonly expected: string },
): Fault[] {
  const first = column.findIndex(rule.wrong);
  if (first < 0) return [];
  const received = `${column[first]} (${column.filter(rule.wrong).length} such values)`;
  return [{ code: "value", path: `${path}[${first}]`, expected: rule.expected, received }];
}
