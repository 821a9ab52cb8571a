import type { Instrument } from "./instrument.js";

/** The rows of one `readings` resource, in file order: one walk with one set-up of the coils. */
export interface Pass {
  readonly resource: string;
  readonly file: string;
  readonly instrument: Instrument;
  /** Number of readings, n. */
  readonly count: number;
  /** n line numbers in the file (the header is line 1). */
  readonly row: Int32Array;
  /** n times, s since 1970-01-01T00:00Z; NaN where missing. */
  readonly time_s: Float64Array;
  /** n names of survey lines; "" where the file has none. */
  readonly line: readonly string[];
  /** n positions in the survey's projected coordinates; NaN where GPS gave none. */
  readonly easting_m: Float64Array;
  readonly northing_m: Float64Array;
  /** n chainages along the centreline; NaN without a position. */
  readonly chainage_m: Float64Array;
  /** n distances from the centreline, positive to the left seen toward increasing chainage. */
  readonly offset_m: Float64Array;
  /** n heights of the coils above ground. */
  readonly height_m: Float64Array;
  /** For each channel of the instrument, n values in the channel's unit; NaN where missing. */
  readonly values: readonly Float64Array[];
  /** For each channel, n entries: 0 in use, k set aside by `campaign.causes[k - 1]`. */
  readonly setAside: readonly Uint8Array[];
  /** n entries: 1 where a correction changed any of the row's values. */
  readonly corrected: Uint8Array;
  /** n standard deviations of the chainage, m; NaN without a position. */
  readonly positionSd_m?: Float64Array;
  /** n entries: 1 where the file has no position and it was bridged by time. */
  readonly positionBridged?: Uint8Array;
  /**
   * For each channel, n standard deviations of the drift that the correction may have left in the
   * value (or put into it), channel's unit; correlated between neighbours in time. 0 where unknown.
   */
  readonly driftSd?: readonly Float64Array[];
}

/** Why readings are set aside. `kind` decides how the report groups them. */
export interface Cause {
  readonly kind:
    | "no position"
    | "no value"
    | "not read"
    | "repeated"
    | "documented"
    | "detected"
    | "both"
    | "noise";
  /** A sentence for the account. */
  readonly text: string;
  /** The noted object, where there is one. */
  readonly object?: string;
}
