import type { Pass } from "../../survey/survey.js";
import type { JudgedDrift } from "../apply-drift.js";
import { driftAt } from "../models/drift-curve.js";
import type { HeightReading } from "./height-readings.js";
import type { ZeroOffset } from "./zero-level.js";

/** An offset is taken off where it exceeds this many standard errors. */
export const CERTAIN = 2;

/** A reading of the height test with the drift of its time taken off; without a time as it is. */
export function withoutOwnDrift(
  reading: HeightReading,
  judged: ReadonlyMap<string, JudgedDrift>,
): HeightReading {
  const time_s = reading.time_s ?? Number.NaN;
  const values = Object.entries(reading.values).map(([field, value]) => {
    const curve = judged.get(field)?.curve ?? null;
    const drift = curve === null ? 0 : driftAt(curve, [time_s])[0]!;
    return [field, value - (Number.isNaN(drift) ? 0 : drift)] as const;
  });
  return { ...reading, values: Object.fromEntries(values) };
}

/** A pass with the channels' zero levels taken off, where they are known well enough to differ from 0. */
export function passWithoutZero(pass: Pass, offsets: readonly ZeroOffset[]): Pass {
  const corrected = Uint8Array.from(pass.corrected);
  const driftSd = [...(pass.driftSd ?? [])];
  const values = pass.instrument.channels.map(({ field }, c) => {
    const own = offsets.find(({ channel }) => channel === field);
    const column = pass.values[c]!;
    if (own === undefined || !isCertain(own)) return column;
    driftSd[c] = driftSd[c]!.map((sd) => Math.hypot(sd, own.error));
    return column.map((value, i) => {
      if (!Number.isNaN(value)) corrected[i] = 1;
      return value - own.offset;
    });
  });
  return { ...pass, values, corrected, driftSd };
}

export function isCertain({ offset, error }: ZeroOffset): boolean {
  return Math.abs(offset) > CERTAIN * error;
}
