import { median } from "../../numerics/robust.js";
import type { PlaceOptions } from "../options.js";
import type { PlacedPass } from "../walk/place-pass.js";
import { connectedPasses, excessOf, type ToldPair } from "./pass-excess.js";
import { profileOf } from "./pass-profile.js";
import { type NoShift, type PassShift, shiftBetween } from "./pass-shift.js";

/** Two passes of a campaign and how far they lie apart by what they read. */
export interface PassPair {
  /** Files of the two; the shift is how far the second lies ahead of the first. */
  readonly one: string;
  readonly other: string;
  readonly found: PassShift | NoShift;
  /** True where one was walked up and the other down the bank: a time lag would look the same. */
  readonly isOpposite: boolean;
}

/** What was found of passes against each other, and what was done. */
export interface Together {
  readonly pairs: readonly PassPair[];
  /** For each pass, the mean by which its chainages were moved, m; 0 where they were left. */
  readonly moved_m: readonly number[];
  readonly from: "readings" | "given" | "left";
}

/** Passes are clearly apart where somewhere they are by this, m, and by so many standard deviations. */
export const LEAST_APART_M = 0.5;
const SURE = 4;
/** Passes further aside from each other than this are of different lines, m. */
const SAME_LINE_M = 3;

/**
 * Brings the passes of a campaign together along the bank: where what they read says clearly that they
 * lie apart, each is moved so that they meet in their middle. Chainages are written into.
 */
export function bringTogether(
  placed: readonly PlacedPass[],
  { passShift_m }: Pick<PlaceOptions, "passShift_m">,
): Together {
  if (typeof passShift_m === "object") {
    const excess = placed.map(({ pass }) => passShift_m[pass.file] ?? 0);
    for (const [p, one] of placed.entries()) move(one, () => -excess[p]!);
    return { pairs: [], moved_m: excess.map((x) => -x || 0), from: "given" };
  }
  const pairs = passShift_m === "ignore" ? [] : pairsOf(placed);
  const left: Together = { pairs, moved_m: placed.map(() => 0), from: "left" };
  if (passShift_m !== "correct") return left;
  const groups = connectedPasses(toldOf(placed, pairs), placed.length).filter(({ told }) =>
    told.some(isApart),
  );
  if (groups.length === 0) return left;
  const moved_m = placed.map(() => 0);
  for (const group of groups) {
    const { excessAt, sd_m } = excessOf(group);
    for (const [k, p] of group.passes.entries()) {
      moved_m[p] = move(placed[p]!, (x) => -excessAt(x)[k]!);
      const { sd_m: own_m } = placed[p]!;
      for (const [i, own] of own_m.entries()) own_m[i] = Math.hypot(own, sd_m[k]!);
    }
  }
  return { pairs, moved_m, from: "readings" };
}

/** Moves a pass and tells by how much in the mean. */
function move({ chainage_m }: PlacedPass, by: (chainage_m: number) => number): number {
  let [sum, count] = [0, 0];
  for (const [i, x] of chainage_m.entries()) {
    if (Number.isNaN(x)) continue;
    const step_m = by(x);
    chainage_m[i] = x + step_m;
    sum += step_m;
    count += 1;
  }
  return count === 0 ? 0 : sum / count;
}

function pairsOf(placed: readonly PlacedPass[]): readonly PassPair[] {
  if (placed.length < 2) return [];
  const walks = placed.map((one) => ({
    file: one.pass.file,
    profile: profileOf({ ...one, ...one.pass.instrument, values: one.pass.values }),
    offset_m: median(one.offset_m),
    way: Math.sign(one.legs.reduce((sum, { from_m, to_m }) => sum + to_m - from_m, 0)),
  }));
  return walks.flatMap((one, p) =>
    walks.slice(p + 1).map((other) => ({
      one: one.file,
      other: other.file,
      found:
        Math.abs(one.offset_m - other.offset_m) <= SAME_LINE_M
          ? shiftBetween(one.profile, other.profile)
          : "other line",
      isOpposite: one.way !== other.way,
    })),
  );
}

function toldOf(placed: readonly PlacedPass[], pairs: readonly PassPair[]): readonly ToldPair[] {
  const files = placed.map(({ pass }) => pass.file);
  return pairs.flatMap(({ one, other, found }) =>
    typeof found === "string"
      ? []
      : [{ one: files.indexOf(one), other: files.indexOf(other), found }],
  );
}

/** True where two passes clearly lie apart somewhere. */
export function isApart({ found }: { readonly found: PassShift }): boolean {
  return found.shift_m.some((shift, k) => {
    return Math.abs(shift) >= Math.max(LEAST_APART_M, SURE * found.shiftSd_m[k]!);
  });
}
