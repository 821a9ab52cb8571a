import { type DriftDatum, isLevel } from "../checks/drift-datum.js";
import { type DriftFrame, hours } from "./drift-frame.js";
import type { DriftProcess } from "./drift-process.js";

type Timed = Pick<DriftFrame, "data" | "start_s">;

/** A sum of the drift at some times, each with its sign: a level has one, a rise two. */
type Contrast = readonly (readonly [at_h: number, sign: number])[];

/** n × n covariance of a process in the data. */
export function dataCovariance({ data, start_s }: Timed, process: DriftProcess): Float64Array {
  const contrasts = data.map((datum) => contrastOf(datum, start_s));
  return Float64Array.from(
    contrasts.flatMap((one) => contrasts.map((other) => covarianceOf(process, one, other))),
  );
}

/** The increment of a process between two times, at unit rate. */
export interface ProcessIncrement {
  /** Its covariance with the process in each datum. */
  readonly crossCovariance: Float64Array;
  readonly variance: number;
}

export function processIncrement(
  { data, start_s, process }: Timed & { readonly process: DriftProcess },
  from_s: number,
  to_s: number,
): ProcessIncrement {
  const rise = contrastOf({ time_s: to_s, minus_s: from_s }, start_s);
  const crossCovariance = Float64Array.from(data, (datum) =>
    covarianceOf(process, rise, contrastOf(datum, start_s)),
  );
  return { crossCovariance, variance: covarianceOf(process, rise, rise) };
}

function contrastOf(datum: Pick<DriftDatum, "time_s" | "minus_s">, start_s: number): Contrast {
  const later = [hours(datum.time_s, start_s), 1] as const;
  return isLevel(datum) ? [later] : [later, [hours(datum.minus_s, start_s), -1]];
}

function covarianceOf({ covariance }: DriftProcess, one: Contrast, other: Contrast): number {
  let sum = 0;
  for (const [s, a] of one) {
    for (const [t, b] of other) sum += a * b * covariance(s, t);
  }
  return sum;
}
