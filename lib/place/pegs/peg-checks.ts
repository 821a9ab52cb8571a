import { valueAt } from "../../numerics/arrays.js";
import { lastAtMost } from "../../numerics/functions/linear-between.js";
import type { FieldNote, Pass } from "../../survey/survey.js";
import type { Knot } from "../walk/bridge-gaps.js";
import type { Course } from "../walk/shift-in-time.js";

/** A peg's chainage as it is written on it, and as the positions have it. */
export interface PegCheck {
  readonly row: number;
  readonly object: string;
  readonly stated_m: number;
  readonly measured_m: number;
  /** Of the walker, positive toward increasing chainage; NaN where the peg's position was given. */
  readonly speed_m_per_s: number;
  /** File of the pass in which it was passed; null where its position was given. */
  readonly file: string | null;
}

/** Further off than this, m, the chainage is a slip of the pen and is not used. */
const FURTHEST_M = 60;
/** A time gives a peg's place only where the walk has a reading this near to it, s. */
const NEAR_S = 10;

/** Notes that state one chainage: marks from a point to the same point. */
export function pegsOf(notes: readonly FieldNote[]): readonly FieldNote[] {
  return notes.filter(({ kind, from_m, to_m }) => kind === "mark" && from_m === to_m);
}

/** Pegs passed while a pass was walked, in the order of time. */
export function knotsOf(notes: readonly FieldNote[], { time_s }: Pass): readonly Knot[] {
  const isThere = (time: number) => !Number.isNaN(time);
  const first_s = time_s.find(isThere) ?? Number.NaN;
  const last_s = time_s.findLast(isThere) ?? Number.NaN;
  return pegsOf(notes)
    .flatMap((note) =>
      note.time_s === null ? [] : { time_s: note.time_s, chainage_m: note.from_m },
    )
    .filter((knot) => knot.time_s >= first_s && knot.time_s <= last_s)
    .sort((one, other) => one.time_s - other.time_s);
}

/** Pegs whose position was noted beside their chainage. */
export function pegsWithPosition(notes: readonly FieldNote[]): readonly PegCheck[] {
  return pegsOf(notes).flatMap(({ row, object, from_m, located_m }) =>
    located_m === undefined
      ? []
      : [
          {
            ...{ row, object, stated_m: from_m, measured_m: located_m },
            ...{ speed_m_per_s: Number.NaN, file: null },
          },
        ],
  );
}

/** Pegs that were passed during the walk, by their times. */
export function pegsPassed(
  notes: readonly FieldNote[],
  walk: { readonly file: string; readonly course: Course; readonly chainage_m: Float64Array },
): readonly PegCheck[] {
  const { course, chainage_m, file } = walk;
  const at_m = (k: number) => valueAt(chainage_m, course.rows[k] ?? -1);
  return pegsOf(notes).flatMap(({ row, object, from_m, time_s }) => {
    const passed_s = time_s ?? Number.NaN;
    const k = lastAtMost(course.time_s, passed_s, [0, course.time_s.length - 1]);
    const [before_s, after_s] = [valueAt(course.time_s, k), valueAt(course.time_s, k + 1)];
    if (!(after_s - before_s <= NEAR_S)) return [];
    const way_m = at_m(k + 1) - at_m(k);
    const speed_m_per_s = after_s > before_s ? way_m / (after_s - before_s) : 0;
    const measured_m = at_m(k) + speed_m_per_s * (passed_s - before_s);
    return [{ row, object, stated_m: from_m, measured_m, speed_m_per_s, file }];
  });
}

/** True for a peg whose difference can be one of position. */
export function isPlausible({ stated_m, measured_m }: PegCheck): boolean {
  return Math.abs(stated_m - measured_m) <= FURTHEST_M;
}
