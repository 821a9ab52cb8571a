import { entryOf, firstOf, lastOf, valueAt, zipped } from "../numerics/arrays.js";
import type { Pass } from "../survey/survey.js";
import type { JudgedDrift } from "./judge-drift.js";
import { driftAt, driftSdAt } from "./models/drift-curve.js";

/**
 * A pass with the drift of its channels taken off, in new arrays, and what may be left of it; other
 * channels keep their values.
 */
export function passWithoutDrift(pass: Pass, judged: ReadonlyMap<string, JudgedDrift>): Pass {
  const corrected = Uint8Array.from(pass.corrected);
  const channels = zipped(pass.instrument.channels, pass.values);
  const values = channels.map(([{ field }, column]) => {
    const { curve } = entryOf(judged, field);
    return curve === null ? column : withoutDrift(column, driftAt(curve, pass.time_s), corrected);
  });
  const driftSd = channels.map(([{ field }]) => sdOf(pass, entryOf(judged, field)));
  return { ...pass, values, corrected, driftSd };
}

function sdOf({ time_s }: Pass, judged: JudgedDrift): Float64Array {
  const seen = seenSd(time_s, judged);
  return time_s.map((at_s, i) => judged.untold(at_s, valueAt(seen, i) || 0));
}

/** As far as the checks tell. */
function seenSd(time_s: Float64Array, { curve, left, unevenness }: JudgedDrift): Float64Array {
  if (curve !== null) return driftSdAt(curve, time_s);
  if (left === null) return time_s.map(() => unevenness);
  const stays = driftAt(left, time_s);
  return driftSdAt(left, time_s).map((sd, i) => Math.hypot(sd, valueAt(stays, i)));
}

/** A row without a time keeps its value: how far the instrument had drifted is not known. */
function withoutDrift(column: Float64Array, drift: Float64Array, corrected: Uint8Array) {
  return column.map((value, i) => {
    const own = valueAt(drift, i);
    if (Number.isNaN(value) || !(Math.abs(own) > 0)) return value;
    corrected[i] = 1;
    return value - own;
  });
}

/** Readings of a pass outside the span of its curves, and without a time. */
export function reachOf(pass: Pass, judged: ReadonlyMap<string, JudgedDrift>) {
  const own = pass.instrument.channels.flatMap(({ field }) => entryOf(judged, field).curve ?? []);
  const first = Math.max(...own.map(({ time_s }) => firstOf(time_s)));
  const last = Math.min(...own.map(({ time_s }) => lastOf(time_s)));
  let outside = 0;
  let timeless = 0;
  for (const time of own.length > 0 ? pass.time_s : []) {
    if (Number.isNaN(time)) timeless++;
    else if (time < first || time > last) outside++;
  }
  return { outside, timeless };
}
