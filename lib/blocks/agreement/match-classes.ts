import { greatestAssignment } from "../../numerics/assignment.js";
import type { ClassedStretch, ClassPair } from "./agreement.js";
import type { CompareSegmentationsOptions } from "./options.js";

export interface MatchedClasses {
  readonly matchedBy: CompareSegmentationsOptions["classes"];
  readonly classPairs: readonly ClassPair[];
}

type Matching = Pick<CompareSegmentationsOptions, "classes" | "sameGround_decades">;
type Cut = readonly ClassedStretch[];

/** Which class of the one is which of the other: by their ground, by where they lie, or by name. */
export function matchClasses(one: Cut, other: Cut, options: Matching): MatchedClasses {
  const names = [one, other].map((cut) => [...new Set(cut.map((stretch) => stretch.class))].sort());
  const [ones = [], others = []] = names;
  const shared = (a: string, b: string) => sharedLength(ofClass(one, a), ofClass(other, b));
  const hasGround = [...one, ...other].every((stretch) => slicesOf(stretch).length > 0);
  const matchedBy = options.classes === "ground" && !hasGround ? "overlap" : options.classes;
  const likeness = {
    ground: (a: string, b: string) =>
      options.sameGround_decades - groundDistance(ofClass(one, a), ofClass(other, b)),
    overlap: shared,
    name: (a: string, b: string) => (a === b ? 1 : 0),
  }[matchedBy];
  const gain = ones.map((a) => others.map((b) => likeness(a, b)));
  const classPairs = greatestAssignment(gain).flatMap((column, row) => {
    const [a, b] = [ones[row], others[column]];
    return a === undefined || b === undefined ? [] : [{ one: a, other: b, shared_m: shared(a, b) }];
  });
  return { matchedBy, classPairs };
}

const ofClass = (cut: Cut, name: string) => cut.filter((stretch) => stretch.class === name);
const slicesOf = (stretch: ClassedStretch) => stretch.resistivity_ohm_m ?? [];

/** Length that two lists of stretches both cover, m. */
function sharedLength(one: Cut, other: Cut): number {
  let sum_m = 0;
  for (const a of one) {
    for (const b of other) {
      sum_m += Math.max(0, Math.min(a.to_m, b.to_m) - Math.max(a.from_m, b.from_m));
    }
  }
  return sum_m;
}

/**
 * Mean distance of two classes' resistivities, decades, over the depths that both have; infinite
 * where they share none.
 */
function groundDistance(one: Cut, other: Cut): number {
  const edges = [...one, ...other]
    .flatMap(slicesOf)
    .flatMap(({ top_m, base_m }) => [top_m, base_m])
    .sort((a, b) => a - b);
  let [sum, depth_m] = [0, 0];
  for (const [i, base_m] of edges.entries()) {
    const top_m = edges[i - 1] ?? base_m;
    const middle_m = (top_m + base_m) / 2;
    const off = Math.abs(levelAt(one, middle_m) - levelAt(other, middle_m));
    if (!(base_m > top_m) || !Number.isFinite(off)) continue;
    sum += off * (base_m - top_m);
    depth_m += base_m - top_m;
  }
  return depth_m > 0 ? sum / depth_m : Number.POSITIVE_INFINITY;
}

/** Mean log10 resistivity of a class at a depth, by the length of its stretches; NaN without. */
function levelAt(cut: Cut, depth_m: number): number {
  let [sum, length_m] = [0, 0];
  for (const stretch of cut) {
    const slice = slicesOf(stretch).find((one) => one.top_m <= depth_m && depth_m < one.base_m);
    if (slice === undefined || !(slice.median > 0)) continue;
    const own_m = stretch.to_m - stretch.from_m;
    sum += own_m * Math.log10(slice.median);
    length_m += own_m;
  }
  return sum / length_m;
}
