import { zipped } from "../../numerics/arrays.js";
import type { Pass } from "../../survey/survey.js";
import { channelsByField } from "../channels.js";
import type { DriftCorrected } from "../drift.js";
import type { JudgedDrift } from "../judge-drift.js";
import { driftAt } from "../models/drift-curve.js";
import type { HeightReading } from "./height-readings.js";
import { type ZeroOffset, zeroLevel } from "./zero-level.js";

/** An offset is taken off where it exceeds this many standard errors. */
export const CERTAIN = 2;

type Judged = ReadonlyMap<string, JudgedDrift>;

/** A campaign with the zero levels of a height test taken off, the test's own drift first. */
export function levelled(
  value: DriftCorrected,
  heightTest: readonly HeightReading[],
  judged: Judged,
): DriftCorrected {
  const readings = heightTest.map((reading) => withoutOwnDrift(reading, judged));
  const found = zeroLevel(readings, channelsByField(value.passes));
  const passes = value.passes.map((pass) => passWithoutZero(pass, found.channels));
  return { ...value, passes, zeroLevel: found };
}

/** A reading of the height test with the drift of its time taken off; without a time as it is. */
function withoutOwnDrift(reading: HeightReading, judged: Judged): HeightReading {
  const time_s = reading.time_s ?? Number.NaN;
  const values = Object.entries(reading.values).map(([field, value]) => {
    const curve = judged.get(field)?.curve ?? null;
    const [drift = 0] = curve === null ? [] : driftAt(curve, [time_s]);
    return [field, value - (Number.isNaN(drift) ? 0 : drift)] as const;
  });
  return { ...reading, values: Object.fromEntries(values) };
}

/** A pass with the channels' zero levels taken off, where they differ from 0 with certainty. */
function passWithoutZero(pass: Pass, offsets: readonly ZeroOffset[]): Pass {
  const corrected = Uint8Array.from(pass.corrected);
  const certain = new Map(offsets.filter(isCertain).map((one) => [one.channel, one]));
  const fields = pass.instrument.channels.map(({ field }) => field);
  const driftSd = zipped(fields, pass.driftSd ?? []).map(([field, column]) => {
    const own = certain.get(field);
    return own === undefined ? column : column.map((sd) => Math.hypot(sd, own.error));
  });
  const values = zipped(fields, pass.values).map(([field, column]) => {
    const own = certain.get(field);
    if (own === undefined) return column;
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
