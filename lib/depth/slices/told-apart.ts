import { itemAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";

/** Resolved from its neighbours: their change moves it by half of what its own does at most. */
export function toldApart(averaging: readonly (readonly Float64Array[])[], slice: number): boolean {
  const row = itemAt(averaging, slice).map((values) => median(values));
  const own = itemAt(row, slice);
  return [slice - 1, slice + 1].every(
    (other) => row[other] === undefined || Math.abs(row[other]) <= own / 2,
  );
}
