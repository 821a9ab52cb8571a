import type { Pass } from "../survey/survey.js";
import { type DriftCurve, driftAt, driftSdAt } from "./models/drift-curve.js";

/** What is known of one channel's drift once it is judged. */
export interface JudgedDrift {
  /** The curve to take off; null where the values stay. */
  readonly curve: DriftCurve | null;
  /** Where no curve is taken off: the likeliest drift that stays in the values; null if unknown. */
  readonly left: DriftCurve | null;
  /** Standard deviation of what stays where no curve says it. */
  readonly unevenness: number;
}

/**
 * A pass with the drift of its channels taken off, in new arrays, and what may be left of it; other
 * channels keep their values.
 */
export function passWithoutDrift(pass: Pass, judged: ReadonlyMap<string, JudgedDrift>): Pass {
  const corrected = Uint8Array.from(pass.corrected);
  const values = pass.instrument.channels.map(({ field }, c) => {
    const curve = judged.get(field)?.curve ?? null;
    const column = pass.values[c]!;
    return curve === null ? column : withoutDrift(column, driftAt(curve, pass.time_s), corrected);
  });
  const driftSd = pass.instrument.channels.map(({ field }) => sdOf(pass, judged.get(field)));
  return { ...pass, values, corrected, driftSd };
}

function sdOf(pass: Pass, judged: JudgedDrift | undefined): Float64Array {
  if (judged === undefined) return new Float64Array(pass.count);
  const { curve, left, unevenness } = judged;
  if (curve === null && left === null) return new Float64Array(pass.count).fill(unevenness);
  if (curve === null) {
    const stays = driftAt(left!, pass.time_s);
    return driftSdAt(left!, pass.time_s).map((sd, i) => Math.hypot(sd, stays[i]!) || 0);
  }
  return driftSdAt(curve, pass.time_s).map((sd) => (Number.isNaN(sd) ? 0 : sd));
}

/** A row without a time keeps its value: nothing says how far the instrument had drifted. */
function withoutDrift(column: Float64Array, drift: Float64Array, corrected: Uint8Array) {
  return column.map((value, i) => {
    if (Number.isNaN(value) || !(Math.abs(drift[i]!) > 0)) return value;
    corrected[i] = 1;
    return value - drift[i]!;
  });
}

export interface DriftReach {
  /** Readings before the first or after the last check. */
  readonly outside: number;
  /** Readings without a time. */
  readonly timeless: number;
}

/** Readings of a pass that the curves of its channels do not reach. */
export function reachOf(pass: Pass, curves: ReadonlyMap<string, DriftCurve>): DriftReach {
  const own = pass.instrument.channels.flatMap(({ field }) => curves.get(field) ?? []);
  const starts = own.map(({ time_s }) => time_s[0]!);
  const ends = own.map(({ time_s }) => time_s.at(-1)!);
  const [first, last] = [Math.max(...starts), Math.min(...ends)];
  let outside = 0;
  let timeless = 0;
  for (const time of own.length > 0 ? pass.time_s : []) {
    if (Number.isNaN(time)) timeless++;
    else if (time < first || time > last) outside++;
  }
  return { outside, timeless };
}
