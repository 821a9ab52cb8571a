import { linearBetween } from "../../numerics/functions/linear-between.js";

/** Drift against time: straight between knots, two knots at one time where it steps. */
export interface DriftCurve {
  /** m times, s, never falling. */
  readonly time_s: Float64Array;
  /** m drifts in the channel's unit, 0 at the reference time. */
  readonly drift: Float64Array;
  /** m standard deviations of `drift`; 0 where they are not known. */
  readonly sd: Float64Array;
  /** Extrapolation beyond the knots: the slope, and the variance that the random walk gains. */
  readonly beyond: { readonly perSecond: number; readonly variancePerSecond: number };
}

export type Knot = readonly [time_s: number, drift: number, sd: number];

const STILL = Object.freeze({ perSecond: 0, variancePerSecond: 0 });

export function curveOf(knots: readonly Knot[], beyond: DriftCurve["beyond"]): DriftCurve {
  return {
    time_s: Float64Array.from(knots, ([time_s]) => time_s),
    drift: Float64Array.from(knots, ([, drift]) => drift),
    sd: Float64Array.from(knots, ([, , sd]) => sd),
    beyond: knots.length > 0 ? beyond : STILL,
  };
}

/** The drift at n times; constant beyond the first and last check; NaN where the time is NaN. */
export function driftAt({ time_s, drift }: DriftCurve, times_s: ArrayLike<number>): Float64Array {
  return Float64Array.from(times_s, (at_s) => interpolated(time_s, drift, at_s));
}

/**
 * The standard deviation of the drift at n times. Beyond the first and last check it grows with all
 * that the drift may have done there; NaN where the time is NaN.
 */
export function driftSdAt(curve: DriftCurve, times_s: ArrayLike<number>): Float64Array {
  const { time_s, sd, beyond } = curve;
  const [first, last] = [time_s[0] ?? Number.NaN, time_s.at(-1) ?? Number.NaN];
  return Float64Array.from(times_s, (at_s) => {
    const out_s = Math.max(0, first - at_s, at_s - last) || 0;
    const walk = Math.sqrt(beyond.variancePerSecond * out_s);
    return Math.hypot(interpolated(time_s, sd, at_s), walk, beyond.perSecond * out_s);
  });
}

/** 0 of a curve without knots, as nothing is known to drift. */
function interpolated(time_s: Float64Array, values: Float64Array, at_s: number): number {
  return time_s.length === 0 && !Number.isNaN(at_s) ? 0 : linearBetween(time_s, values, at_s);
}
