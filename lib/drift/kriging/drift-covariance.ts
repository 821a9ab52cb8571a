import { type DriftDatum, isLevel } from "../checks/drift-datum.js";
import { type DriftFrame, hours } from "./drift-frame.js";
import type { DriftProcess } from "./drift-process.js";

type Timed = Pick<DriftFrame, "data" | "start_s">;

/** n × n covariance of a process in the data. */
export function dataCovariance(
  { data, start_s }: Timed,
  { covariance }: DriftProcess,
): Float64Array {
  const n = data.length;
  const ends = data.map((datum) => {
    const later = [hours(datum.time_s, start_s), 1] as const;
    return isLevel(datum) ? [later] : [later, [hours(datum.minus_s, start_s), -1] as const];
  });
  const result = new Float64Array(n * n);
  for (const [i, one] of ends.entries()) {
    for (const [j, other] of ends.entries()) {
      for (const [s, a] of one) {
        for (const [t, b] of other) result[i * n + j]! += a * b * covariance(s, t);
      }
    }
  }
  return result;
}

/** The increment of a process between two times, at unit rate. */
export interface ProcessIncrement {
  /** Its covariance with the process in each datum. */
  readonly crossCovariance: Float64Array;
  readonly variance: number;
}

export function processIncrement(
  frame: Timed & { readonly process: DriftProcess },
  from_s: number,
  to_s: number,
): ProcessIncrement {
  const crossCovariance = Float64Array.from(
    frame.data,
    (datum) => covarianceWith(frame, to_s, datum) - covarianceWith(frame, from_s, datum),
  );
  const { process, start_s } = frame;
  const [from, to] = [hours(from_s, start_s), hours(to_s, start_s)];
  const between = process.covariance(from, to);
  const variance = process.covariance(to, to) + process.covariance(from, from) - 2 * between;
  return { crossCovariance, variance };
}

/** Covariance of the process at one time with that in a datum. */
function covarianceWith(
  { process, start_s }: { readonly process: DriftProcess; readonly start_s: number },
  time_s: number,
  datum: DriftDatum,
): number {
  const at = hours(time_s, start_s);
  const later = process.covariance(at, hours(datum.time_s, start_s));
  return isLevel(datum) ? later : later - process.covariance(at, hours(datum.minus_s, start_s));
}
