import { valueAt } from "../numerics/arrays.js";
import { positionAt } from "../survey/bank/position.js";
import type { Centreline } from "../survey/survey.js";
import type { PlaceOptions } from "./options.js";
import type { PegCheck } from "./pegs/peg-checks.js";
import { pegCorrection } from "./pegs/peg-correction.js";
import type { PlacedPass } from "./walk/place-pass.js";
import { coordinateBefore, courseOf } from "./walk/shift-in-time.js";

interface Move extends Pick<PlaceOptions, "antennaAhead_m" | "antennaLeft_m"> {
  readonly lag_s: number;
}

/** From where the antenna was at a reading's time to where the coils measured it. */
export function moveToCoils(placed: PlacedPass, move: Move): void {
  const { chainage_m, offset_m, clock_s } = placed;
  const { lag_s, antennaAhead_m, antennaLeft_m } = move;
  if (antennaAhead_m !== 0 || antennaLeft_m !== 0) {
    for (const { first, last, way } of placed.legs) {
      for (let i = first; i <= last; i++) {
        chainage_m[i]! -= way * antennaAhead_m;
        offset_m[i]! -= way * antennaLeft_m;
      }
    }
  }
  if (lag_s === 0) return;
  const course = courseOf(clock_s, chainage_m);
  for (const values of [chainage_m, offset_m]) {
    const before = coordinateBefore(course, values, lag_s);
    for (const [k, row] of course.rows.entries()) values[row] = valueAt(before, k);
  }
}

/** Coordinates of rows whose chainage is no longer that of their own position. */
export function putOnMap(
  placed: PlacedPass,
  centreline: Centreline,
  rows: "all" | "bridged",
): void {
  const { chainage_m, offset_m, easting_m, northing_m, bridged } = placed;
  for (const [i, at_m] of chainage_m.entries()) {
    if (rows === "bridged" && bridged[i] === 0) continue;
    const at = positionAt(centreline, at_m, valueAt(offset_m, i));
    easting_m[i] = at.easting_m;
    northing_m[i] = at.northing_m;
  }
}

/** Brings the chainages to the pegs; false where the pegs give no correction. */
export function moveToPegs(placed: readonly PlacedPass[], pegs: readonly PegCheck[]): boolean {
  const correction = pegCorrection(pegs);
  if (correction === null) return false;
  for (const { chainage_m } of placed) {
    for (const [i, x] of chainage_m.entries()) chainage_m[i] = x + correction(x);
  }
  return true;
}
