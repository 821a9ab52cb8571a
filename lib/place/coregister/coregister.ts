import { itemAt, zipped } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import { ONE_LINE_M } from "../lines/find-lines.js";
import type { PlaceOptions } from "../options.js";
import type { PlacedPass } from "../walk/place-pass.js";
import { adjustPasses, type ConnectedPasses, connectedPasses } from "./adjust-passes.js";
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
export interface Coregistration {
  readonly pairs: readonly PassPair[];
  /** For each pass, the mean by which its chainages were moved, m; 0 where they were left. */
  readonly moved_m: readonly number[];
  readonly from: "readings" | "given" | "left";
}

/**
 * Passes lie apart where somewhere they do by this, m, and by so many standard deviations.
 */
export const LEAST_APART_M = 0.5;
const SIGNIFICANT_SD = 4;

/**
 * Co-registers the passes of a campaign: where their readings put them apart along the bank by more
 * than the errors allow, each is moved so that they meet in their middle. Chainages are written
 * into.
 */
export function coregister(
  placed: readonly PlacedPass[],
  { passShift_m }: Pick<PlaceOptions, "passShift_m">,
): Coregistration {
  if (typeof passShift_m === "object") {
    const moved_m = placed.map((pass) => {
      const shift_m = passShift_m[pass.pass.file] ?? 0;
      move(pass, () => -shift_m);
      return -shift_m || 0;
    });
    return { pairs: [], moved_m, from: "given" };
  }
  const pairs = passShift_m === "ignore" ? [] : pairsOf(placed);
  const moved_m = placed.map(() => 0);
  const groups = passShift_m === "correct" ? groupsApart(placed, pairs) : [];
  for (const group of groups) {
    const { leadsAt, sd_m } = adjustPasses(group);
    for (const [k, p] of group.passes.entries()) {
      const pass = itemAt(placed, p);
      moved_m[p] = move(pass, (x) => -itemAt(leadsAt(x), k));
      const added_m = itemAt(sd_m, k);
      for (const [i, own_m] of pass.sd_m.entries()) pass.sd_m[i] = Math.hypot(own_m, added_m);
    }
  }
  return { pairs, moved_m, from: groups.length > 0 ? "readings" : "left" };
}

/** Moves a pass; returns the mean by which it was moved, m. */
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
    profile: profileOf(one),
    offset_m: median(one.offset_m),
    way: Math.sign(one.legs.reduce((sum, { from_m, to_m }) => sum + to_m - from_m, 0)),
  }));
  return walks.flatMap((one, p) =>
    walks.slice(p + 1).map((other) => ({
      one: one.file,
      other: other.file,
      found:
        Math.abs(one.offset_m - other.offset_m) <= ONE_LINE_M
          ? shiftBetween(one.profile, other.profile)
          : "other line",
      isOpposite: one.way !== other.way,
    })),
  );
}

/** The groups of connected passes of which two or more lie apart. */
function groupsApart(
  placed: readonly PlacedPass[],
  pairs: readonly PassPair[],
): readonly ConnectedPasses[] {
  const files = placed.map(({ pass }) => pass.file);
  const shifted = pairs.flatMap(({ one, other, found }) =>
    typeof found === "string"
      ? []
      : [{ one: files.indexOf(one), other: files.indexOf(other), found }],
  );
  return connectedPasses(shifted, placed.length).filter((group) =>
    group.pairs.some(({ found }) => isApart(found)),
  );
}

/** True where two passes lie apart significantly somewhere. */
export function isApart({ shift_m, shiftSd_m }: PassShift): boolean {
  return zipped(shift_m, shiftSd_m).some(
    ([shift, sd]) => Math.abs(shift) >= Math.max(LEAST_APART_M, SIGNIFICANT_SD * sd),
  );
}
