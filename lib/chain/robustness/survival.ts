import type { RobustnessFinding, Uncertain } from "../findings.js";
import type { Work } from "../work.js";

/** A part of the line. */
interface Stretch {
  readonly from_m: number;
  readonly to_m: number;
}

/** From this overlap over union on, two stretches are the same finding; two halves are not their whole. */
const SAME = 2 / 3;

/** Length that two stretches share over the length that either covers. */
export function overlapOverUnion(one: Stretch, other: Stretch): number {
  const shared_m = Math.min(one.to_m, other.to_m) - Math.max(one.from_m, other.from_m);
  const union_m = Math.max(one.to_m, other.to_m) - Math.min(one.from_m, other.from_m);
  return union_m > 0 ? Math.max(0, shared_m) / union_m : 1;
}

/** The stretches of `before` that have none like them in `after`, by name. */
export function lostStretches<One extends Stretch>(
  { before, after }: { readonly before: readonly One[]; readonly after: readonly One[] },
  name: (one: One) => string,
  isLike: (one: One, other: One) => boolean = () => true,
): readonly string[] {
  return before
    .filter((one) => {
      const like = after.filter((other) => isLike(one, other));
      return !like.some((other) => overlapOverUnion(one, other) >= SAME);
    })
    .map(name);
}

/** Alternatives under which a finding of this name is not made; nothing where none was tried. */
export function survival({ robustness }: Work, name: string): Uncertain {
  if (robustness === undefined || robustness.length === 0) return {};
  const without = robustness.filter((row) => row.lost?.includes(name));
  return { lostUnder: without.map(alternativeText) };
}

const alternativeText = ({ decision, alternative }: RobustnessFinding) =>
  `${decision} = ${alternative}`;

/** How a change is named where robustness is told. */
export function changeName(change: Stretch & { readonly earlier: string; readonly later: string }) {
  const { from_m, to_m, earlier, later } = change;
  return `change ${earlier} to ${later} at ${from_m.toFixed(0)}–${to_m.toFixed(0)} m`;
}

/** How a seepage zone is named where robustness is told. */
export const zoneName = ({ rank }: { readonly rank: number }) => `zone ${rank}`;
