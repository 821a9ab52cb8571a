import { itemAt, zipped } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";

type Levels = readonly (readonly number[])[];

/**
 * Groups for 1, 2, … b classes, each from the next by joining the two whose farthest members are
 * nearest (complete linkage).
 */
export function nestedGroups(levels: Levels): readonly (readonly (readonly number[])[])[] {
  let groups: (readonly number[])[] = levels.map((_, i) => [i]);
  const all = [groups];
  while (groups.length > 1) {
    const [one, other] = nearestPair(groups, levels);
    groups = [...groups.filter((group) => group !== one && group !== other), [...one, ...other]];
    all.unshift(groups);
  }
  return all;
}

function nearestPair(groups: readonly (readonly number[])[], levels: Levels) {
  const pairs = groups.flatMap((other, i) =>
    groups.slice(0, i).map((one) => ({ one, other, far: farthest(one, other, levels) })),
  );
  const { one, other } = pairs.reduce((least, pair) => (pair.far < least.far ? pair : least));
  return [one, other] as const;
}

function farthest(one: readonly number[], other: readonly number[], levels: Levels): number {
  const apart = one.flatMap((a) =>
    other.map((b) => rmsDifference(itemAt(levels, a), itemAt(levels, b))),
  );
  return Math.max(...apart);
}

/** Columns missing in either are left out; far where all are. */
function rmsDifference(one: readonly number[], other: readonly number[]): number {
  const square = presentMean(zipped(one, other).map(([a, b]) => (a - b) ** 2));
  return Number.isNaN(square) ? Number.MAX_VALUE : Math.sqrt(square);
}
