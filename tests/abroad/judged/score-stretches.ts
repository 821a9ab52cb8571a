import type { GroundChange } from "../ground/columns.js";
import type { Truth } from "../truth.js";

export interface FoundStretch {
  readonly from_m: number;
  readonly to_m: number;
  readonly direction: "fell" | "rose";
}

export interface ChangeScore {
  /** True changes that a found stretch of the same direction meets by half or more. */
  readonly found: number;
  readonly true: number;
  /** Found stretches that lie nowhere on a true change of their direction. */
  readonly falseStretches: number;
}

/** Found where overlap over union is 0.5 or more. */
export function scoreChanges(
  stretches: readonly FoundStretch[],
  changes: readonly GroundChange[],
): ChangeScore {
  const alike = (one: FoundStretch, { factor }: GroundChange) =>
    (one.direction === "rose") === factor > 1;
  const found = changes.filter((change) =>
    stretches.some((one) => alike(one, change) && overlapOverUnion(one, change) >= 0.5),
  );
  const elsewhere = stretches.filter(
    (one) => !changes.some((change) => alike(one, change) && overlapOverUnion(one, change) > 0),
  );
  return { found: found.length, true: changes.length, falseStretches: elsewhere.length };
}

type Stretch = Pick<FoundStretch, "from_m" | "to_m">;

export function overlapOverUnion(a: Stretch, b: Stretch): number {
  const overlap = Math.max(0, Math.min(a.to_m, b.to_m) - Math.max(a.from_m, b.from_m));
  return overlap / (a.to_m - a.from_m + (b.to_m - b.from_m) - overlap);
}

/** Boundaries found within a distance of a true one, and found ones that lie nowhere near any. */
export function scoreBoundaries(
  found_m: readonly number[],
  { boundaries_m }: Pick<Truth, "boundaries_m">,
  within_m = 5,
): { readonly found: number; readonly true: number; readonly falseBoundaries: number } {
  const near = (a: number, many: readonly number[]) =>
    many.some((b) => Math.abs(a - b) <= within_m);
  return {
    found: boundaries_m.filter((one) => near(one, found_m)).length,
    true: boundaries_m.length,
    falseBoundaries: found_m.filter((one) => !near(one, boundaries_m)).length,
  };
}
