import { itemAt, valueAt } from "../../numerics/arrays.js";
import { presentCount } from "../../numerics/statistics/present.js";
import { MARKS } from "../../survey/reading-causes.js";
import type { Pass } from "../../survey/survey.js";
import type { PlaceOptions } from "../options.js";
import { averageStandstills } from "./average-standstills.js";
import type { PositionGap } from "./bridge-gaps.js";
import type { PlacedPass } from "./place-pass.js";
import { standstills } from "./standstill.js";

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
}

/** The pass with its places, its first readings set aside, those of a standstill averaged. */
export function finishPass(placed: PlacedPass, options: PlaceOptions) {
  const { pass, clock_s, chainage_m, offset_m, easting_m, northing_m, sd_m, bridged } = placed;
  const setAside = setAsideAtFirst(pass, chainage_m, options);
  const sameAgain = markSameAgain(pass, setAside);
  const runs = options.standstill === "average" ? standstills(placed.speed_m_per_s, clock_s) : [];
  const { stood, kept, ...averaged } = averageStandstills(pass, { clock_s, runs, setAside });
  const finished: Pass = {
    ...pass,
    ...{ easting_m, northing_m, chainage_m, offset_m, setAside },
    ...averaged,
    positionSd_m: sd_m,
    positionBridged: bridged,
  };
  const { jitter_m, spikes, gaps, back } = placed;
  const report: PassPlacement = {
    file: pass.file,
    readings: pass.count,
    positions: presentCount(pass.easting_m),
    ...{ jitter_m, spikes, gaps },
    bridged: bridged.reduce((sum, flag) => sum + flag, 0),
    ...{ stood, stoodKept: kept, sameAgain },
    stepsBack: back.length,
    stepsBack_m: back.reduce((sum, { from_m, to_m }) => sum + Math.abs(to_m - from_m), 0),
  };
  return { pass: finished, report };
}

/** No value, or one not read: the channel. No position: every channel, unless the row is empty anyway. */
function setAsideAtFirst(
  { values, setAside }: Pass,
  chainage_m: Float64Array,
  { unread }: PlaceOptions,
): Uint8Array[] {
  const isLost = Uint8Array.from(chainage_m, (at_m, i) => {
    const isEmpty = values.every((column) => Number.isNaN(valueAt(column, i)));
    return Number.isNaN(at_m) && !isEmpty ? 1 : 0;
  });
  return values.map((column, c) =>
    Uint8Array.from(column, (value, i) => {
      if (isLost[i] === 1) return MARKS.noPosition;
      if (Number.isNaN(value)) return MARKS.noValue;
      const isUnread = unread === "set aside" && itemAt(setAside, c)[i] === MARKS.notRead;
      return isUnread ? MARKS.notRead : 0;
    }),
  );
}

/** Rows that repeat the row before in everything are one reading, not two. */
function markSameAgain(pass: Pass, setAside: readonly Uint8Array[]): number {
  const { time_s, easting_m, northing_m, height_m, values } = pass;
  const columns = [time_s, easting_m, northing_m, height_m, ...values];
  let count = 0;
  for (let i = 1; i < pass.count; i++) {
    if (Number.isNaN(valueAt(time_s, i))) continue;
    if (!columns.every((column) => Object.is(column[i], column[i - 1]))) continue;
    count += 1;
    for (const mask of setAside) if (mask[i] === 0) mask[i] = MARKS.sameAgain;
  }
  return count;
}
