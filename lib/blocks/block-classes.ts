/**
 * A letter for each block: like letters are like ground, "A" the most conductive.
 *
 * Agglomerative clustering with complete linkage: the two nearest groups are joined as long as no
 * two blocks of the joined group lie more than `classDistance` apart. The distance of two blocks is
 * the root mean square over slices of the difference of their log10 medians, each slice weighted by
 * one over its variance within blocks, so a slice that scatters counts for less; it stays in
 * decades. A slice that is missing in either block is left out.
 *
 * Source: Everitt, Landau, Leese & Stahl 2011, Cluster Analysis, chapter 4 (complete linkage).
 */
export function blockClasses(
  medians: readonly (readonly number[])[],
  variance: readonly number[],
  classDistance: number,
): readonly string[] {
  const distance = medians.map((one) => medians.map((other) => apart(one, other, variance)));
  let groups = medians.map((_, block) => [block]);
  for (;;) {
    const pair = nearestPair(groups, distance);
    if (pair === null || !(pair.distance <= classDistance)) break;
    const joined = [...groups[pair.one]!, ...groups[pair.other]!];
    groups = groups.filter((_, g) => g !== pair.one && g !== pair.other).concat([joined]);
  }
  const level = (group: readonly number[]) =>
    mean(group.map((b) => weighted(medians[b]!, variance)));
  const ordered = [...groups].sort((one, other) => level(one) - level(other));
  return medians.map((_, block) =>
    classLetter(ordered.findIndex((group) => group.includes(block))),
  );
}

/** "A" … "Z", then "AA", "AB", …. */
export function classLetter(rank: number): string {
  const last = String.fromCharCode(65 + (rank % 26));
  return rank < 26 ? last : classLetter(Math.floor(rank / 26) - 1) + last;
}

function nearestPair(groups: readonly number[][], distance: readonly number[][]) {
  let nearest: { one: number; other: number; distance: number } | null = null;
  for (let other = 1; other < groups.length; other++) {
    for (let one = 0; one < other; one++) {
      const farthest = Math.max(
        ...groups[one]!.flatMap((a) => groups[other]!.map((b) => distance[a]![b]!)),
      );
      if (nearest === null || farthest < nearest.distance)
        nearest = { one, other, distance: farthest };
    }
  }
  return nearest;
}

function apart(
  one: readonly number[],
  other: readonly number[],
  variance: readonly number[],
): number {
  const squares = one.map((value, c) => (value - other[c]!) ** 2);
  const mean = weighted(squares, variance);
  return Number.isNaN(mean) ? Number.POSITIVE_INFINITY : Math.sqrt(mean);
}

/** The mean weighted by one over the variances; missing values are left out. */
function weighted(values: readonly number[], variance: readonly number[]): number {
  let sum = 0;
  let weights = 0;
  for (let c = 0; c < values.length; c++) {
    if (Number.isNaN(values[c]!)) continue;
    sum += values[c]! / variance[c]!;
    weights += 1 / variance[c]!;
  }
  return sum / weights;
}

const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
