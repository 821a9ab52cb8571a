import { zipped } from "../../numerics/arrays.js";
import type { Pass } from "../../survey/survey.js";
import { channelsByField } from "../channels.js";
import type { DriftCorrected } from "../drift.js";
import type { JudgedDrift } from "../judge-drift.js";
import { driftAt } from "../models/drift-curve.js";
import type { ZeroOffset } from "./fit-ground.js";
import type { HeightReading } from "./height-readings.js";
import { zeroLevel } from "./zero-level.js";

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
  const own = pass.instrument.channels.map(({ field }) => certain.get(field) ?? null);
  const driftSd = zipped(pass.driftSd ?? [], own).map(([column, zero]) =>
    zero === null ? column : column.map((sd) => Math.hypot(sd, zero.error)),
  );
  const values = zipped(pass.values, own).map(([column, zero]) =>
    column.map((value, i) => {
      if (zero === null || Number.isNaN(value)) return value;
      corrected[i] = 1;
      return value - zero.offset;
    }),
  );
  return { ...pass, values, corrected, driftSd };
}

export function isCertain({ offset, error }: ZeroOffset): boolean {
  return Math.abs(offset) > CERTAIN * error;
}
