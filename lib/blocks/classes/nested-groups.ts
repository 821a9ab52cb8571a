import { itemAt, zipped } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";

type Levels = readonly (readonly number[])[];

/** A group of blocks, and how far its farthest member is from that of each group before it. */
interface Group {
  readonly members: readonly number[];
  readonly far: readonly number[];
}

/**
 * Groups for 1, 2, … b classes, each from the next by joining the two whose farthest members are
 * nearest (complete linkage). The farthest members of a joined group are those of its parts.
 */
export function nestedGroups(levels: Levels): readonly (readonly (readonly number[])[])[] {
  let groups: readonly Group[] = levels.map((own, i) => ({
    members: [i],
    far: levels.slice(0, i).map((other) => rmsDifference(other, own)),
  }));
  const all = [groups];
  while (groups.length > 1) {
    groups = joined(groups, nearestPair(groups));
    all.unshift(groups);
  }
  return all.map((some) => some.map(({ members }) => members));
}

type Pair = readonly [one: number, other: number];

function nearestPair(groups: readonly Group[]): Pair {
  let [nearest, least]: [Pair, number] = [[0, 1], Number.POSITIVE_INFINITY];
  for (const [other, { far }] of groups.entries()) {
    for (let one = 0; one < other; one++) {
      if (far[one]! < least) [nearest, least] = [[one, other], far[one]!];
    }
  }
  return nearest;
}

/** The two leave the list, and stand at its end together. */
function joined(groups: readonly Group[], [one, other]: Pair): readonly Group[] {
  const isLeft = (_: unknown, i: number) => i !== one && i !== other;
  const between = (a: number, b: number) =>
    itemAt(itemAt(groups, Math.max(a, b)).far, Math.min(a, b));
  const rest = groups
    .filter(isLeft)
    .map(({ members, far }) => ({ members, far: far.filter(isLeft) }));
  const others = [...groups.keys()].filter(isLeft);
  const members = [...itemAt(groups, one).members, ...itemAt(groups, other).members];
  const far = others.map((i) => Math.max(between(one, i), between(other, i)));
  return [...rest, { members, far }];
}

/** Columns missing in either are left out; far where all are. */
function rmsDifference(one: readonly number[], other: readonly number[]): number {
  const square = presentMean(zipped(one, other).map(([a, b]) => (a - b) ** 2));
  return Number.isNaN(square) ? Number.MAX_VALUE : Math.sqrt(square);
}
