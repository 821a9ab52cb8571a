import { lastAtMost } from "../../numerics/linear-between.js";
import { MARKS } from "../../survey/read/read-readings.js";
import type { Pass } from "../../survey/survey.js";
import type { PlaceOptions } from "../options.js";
import type { PositionGap } from "./bridge-gaps.js";
import type { PlacedPass } from "./place-pass.js";
import { piecesOfStandstill, standstills } from "./standstill.js";

export interface PassPlacement {
  readonly file: string;
  readonly readings: number;
  /** Rows with a position in the file. */
  readonly positions: number;
  /** From one position to the next, m; NaN where the walk was not smoothed. */
  readonly jitter_m: number;
  readonly spikes: number;
  readonly gaps: readonly PositionGap[];
  readonly bridged: number;
  /** Readings made while standing still, and the readings that stand for them. */
  readonly stood: number;
  readonly stoodKept: number;
  /** Rows that are the row before once more. */
  readonly sameAgain: number;
  /** Stretches walked backwards and their length, m. */
  readonly stepsBack: number;
  readonly stepsBack_m: number;
  /** Stretches of one direction, longer than the steps back. */
  readonly walks: number;
}

/** The pass with its places, what is set aside at first, and what was read while standing averaged. */
export function finishPass(placed: PlacedPass, options: PlaceOptions) {
  const { pass, clock_s, chainage_m, offset_m, easting_m, northing_m, sd_m, bridged } = placed;
  const setAside = setAsideAtFirst(pass.values, chainage_m);
  const sameAgain = markSameAgain(pass, setAside);
  const still = options.standstill === "average" ? standstills(placed.speed_m_per_s, clock_s) : [];
  const averaged = average(pass, { clock_s, still, setAside });
  const finished: Pass = {
    ...pass,
    ...{ easting_m, northing_m, chainage_m, offset_m, setAside },
    values: averaged.values,
    corrected: averaged.corrected,
    positionSd_m: sd_m,
    positionBridged: bridged,
  };
  const back_m = placed.back.reduce((sum, { from_m, to_m }) => sum + Math.abs(to_m - from_m), 0);
  const report: PassPlacement = {
    file: pass.file,
    readings: pass.count,
    positions: pass.easting_m.filter((x) => !Number.isNaN(x)).length,
    jitter_m: placed.jitter_m,
    spikes: placed.spikes,
    gaps: placed.gaps,
    bridged: bridged.reduce((sum, flag) => sum + flag, 0),
    stood: averaged.stood,
    stoodKept: averaged.kept,
    sameAgain,
    stepsBack: placed.back.length,
    stepsBack_m: back_m,
    walks: placed.legs.length - 2 * placed.back.length,
  };
  return { pass: finished, report };
}

/** No value: the channel. No position: every channel, unless the row is empty anyway. */
function setAsideAtFirst(values: readonly Float64Array[], chainage_m: Float64Array): Uint8Array[] {
  const isEmpty = Uint8Array.from(chainage_m, (_, i) =>
    values.every((column) => Number.isNaN(column[i]!)) ? 1 : 0,
  );
  return values.map((column) =>
    Uint8Array.from(column, (value, i) => {
      if (Number.isNaN(chainage_m[i]!) && isEmpty[i] === 0) return MARKS.noPosition;
      return Number.isNaN(value) ? MARKS.noValue : 0;
    }),
  );
}

/** Rows that say in everything what the row before says are one reading, not two. */
function markSameAgain(pass: Pass, setAside: readonly Uint8Array[]): number {
  const same = (column: Float64Array, i: number) => Object.is(column[i], column[i - 1]);
  const columns = [pass.time_s, pass.easting_m, pass.northing_m, pass.height_m, ...pass.values];
  let count = 0;
  for (let i = 1; i < pass.count; i++) {
    if (Number.isNaN(pass.time_s[i]!) || !same(pass.time_s, i)) continue;
    if (!columns.every((column) => same(column, i))) continue;
    count += 1;
    for (const mask of setAside) if (mask[i] === 0) mask[i] = MARKS.sameAgain;
  }
  return count;
}

interface Averaging {
  readonly clock_s: Float64Array;
  readonly still: ReturnType<typeof standstills>;
  readonly setAside: readonly Uint8Array[];
}

/** One reading in the middle of each piece of a standstill takes the means of the piece. */
function average(pass: Pass, { clock_s, still, setAside }: Averaging) {
  const pieces = still
    .flatMap((run) => piecesOfStandstill(run, clock_s))
    .filter(({ first, last }) => last > first);
  if (pieces.length === 0) {
    return { values: pass.values, corrected: pass.corrected, stood: 0, kept: 0 };
  }
  const values = pass.values.map((column) => Float64Array.from(column));
  const corrected = Uint8Array.from(pass.corrected);
  let stood = 0;
  for (const { first, last } of pieces) {
    const middle = lastAtMost(clock_s, (clock_s[first]! + clock_s[last]!) / 2, [first, last]);
    stood += last - first + 1;
    corrected[middle] = 1;
    for (const [c, column] of values.entries()) {
      const mask = setAside[c]!;
      let [sum, count] = [0, 0];
      for (let i = first; i <= last; i++) {
        if (mask[i] !== 0) continue;
        sum += column[i]!;
        count += 1;
        if (i !== middle) mask[i] = MARKS.stoodStill;
      }
      if (count === 0) continue;
      column[middle] = sum / count;
      mask[middle] = 0;
    }
  }
  return { values, corrected, stood, kept: pieces.length };
}
