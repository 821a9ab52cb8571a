import { lastAtMost, linearBetween } from "../../numerics/linear-between.js";
import { median } from "../../numerics/robust.js";
import type { FieldNote } from "../../survey/survey.js";
import type { Course } from "./shift-in-time.js";

/** A peg's chainage as it is written on it, and as the positions have it. */
export interface PegCheck {
  readonly row: number;
  readonly object: string;
  readonly stated_m: number;
  readonly measured_m: number;
  /** Of the walker, m/s, positive toward increasing chainage; NaN where the peg's position was given. */
  readonly pace_m_per_s: number;
  /** File of the pass in which it was passed; null where its position was given. */
  readonly file: string | null;
}

/** Further off than this, m, a peg is a slip of the pen and not believed. */
const FURTHEST_M = 60;
/** A time tells a peg's place only where the walk has a reading this near to it, s. */
const NEAR_S = 10;

/** Notes that state one chainage: marks from a point to the same point. */
export function pegsOf(notes: readonly FieldNote[]): readonly FieldNote[] {
  return notes.filter(({ kind, from_m, to_m }) => kind === "mark" && from_m === to_m);
}

/** Pegs whose position was noted beside their chainage. */
export function pegsWithPosition(notes: readonly FieldNote[]): readonly PegCheck[] {
  return pegsOf(notes)
    .filter(({ located_m }) => located_m !== undefined)
    .map((note) => ({
      row: note.row,
      object: note.object,
      stated_m: note.from_m,
      measured_m: note.located_m!,
      pace_m_per_s: Number.NaN,
      file: null,
    }));
}

/** Pegs that were passed during the walk, by their times. */
export function pegsPassed(
  notes: readonly FieldNote[],
  walk: { readonly file: string; readonly course: Course; readonly chainage_m: Float64Array },
): readonly PegCheck[] {
  const { course, chainage_m, file } = walk;
  return pegsOf(notes).flatMap((note) => {
    const time_s = note.time_s ?? Number.NaN;
    const k = lastAtMost(course.time_s, time_s, [0, course.time_s.length - 1]);
    const [before, after] = [course.time_s[k], course.time_s[k + 1]];
    if (before === undefined || after === undefined || !(after - before <= NEAR_S)) return [];
    const [a, b] = [chainage_m[course.rows[k]!]!, chainage_m[course.rows[k + 1]!]!];
    const pace_m_per_s = after > before ? (b - a) / (after - before) : 0;
    const measured_m = a + pace_m_per_s * (time_s - before);
    return [
      { row: note.row, object: note.object, stated_m: note.from_m, measured_m, pace_m_per_s, file },
    ];
  });
}

/** True for a peg whose difference can be one of position. */
export function isBelievable({ stated_m, measured_m }: PegCheck): boolean {
  return Math.abs(stated_m - measured_m) <= FURTHEST_M;
}

/**
 * The lag that pegs passed in both directions tell: stated − measured = shift − lag × pace, by least
 * squares. Null with fewer than two pegs in one of the directions.
 */
export function lagFromPegs(pegs: readonly PegCheck[]): number | null {
  const walked = pegs.filter((peg) => isBelievable(peg) && Math.abs(peg.pace_m_per_s) > 0.3);
  const ways = [1, -1].map((way) => walked.filter((peg) => peg.pace_m_per_s * way > 0).length);
  if (Math.min(...ways) < 2) return null;
  const mean = (of: (peg: PegCheck) => number) =>
    walked.reduce((sum, peg) => sum + of(peg), 0) / walked.length;
  const off = ({ stated_m, measured_m }: PegCheck) => stated_m - measured_m;
  const [pace, shift] = [mean((peg) => peg.pace_m_per_s), mean(off)];
  const square = mean((peg) => (peg.pace_m_per_s - pace) ** 2);
  return -mean((peg) => (peg.pace_m_per_s - pace) * (off(peg) - shift)) / square;
}

/** Pegs nearer to each other than this, m, are one. */
const SAME_PEG_M = 5;

/**
 * The correction that brings measured chainages to the pegs: linear from peg to peg, and beyond the
 * outermost that of the nearest. Null without a believable peg.
 */
export function pegCorrection(pegs: readonly PegCheck[]): ((chainage_m: number) => number) | null {
  const sorted = pegs.filter(isBelievable).sort((a, b) => a.measured_m - b.measured_m);
  const groups: PegCheck[][] = [];
  for (const peg of sorted) {
    const last = groups.at(-1);
    if (last !== undefined && peg.measured_m - last[0]!.measured_m <= SAME_PEG_M) last.push(peg);
    else groups.push([peg]);
  }
  if (groups.length === 0) return null;
  const x = groups.map((group) => median(group.map((peg) => peg.measured_m)));
  const off = groups.map((group) => median(group.map((peg) => peg.stated_m - peg.measured_m)));
  return (chainage_m) => linearBetween(x, off, chainage_m);
}
