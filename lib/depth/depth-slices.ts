import type { Centreline, Channel, SoilTemperature } from "../survey/survey.js";
import type { StationChannel } from "./data/gather-stations.js";
import type { ShapeInSlices } from "./shape/shape-in-slices.js";

/** Resistivity by depth along the crest, as `estimateDepthSlices` hands it on. */
export interface DepthSlices {
  readonly campaign: string;
  /** Mean time of the readings, s since 1970; NaN where the readings have no times. */
  readonly time_s: number;
  /** n stations at equal spacing, multiples of `spacing_m`, so campaigns share stations. */
  readonly chainage_m: Float64Array;
  readonly spacing_m: number;
  /** k slices, from the surface down. */
  readonly slices: readonly Slice[];
  /** For each slice, n values of log10(ohm-m) at field temperature; NaN without an estimate. */
  readonly log10Resistivity: readonly Float64Array[];
  /** For each slice, n posterior standard deviations of the same. */
  readonly sd: readonly Float64Array[];
  /**
   * For each slice, n posterior quantiles of log10(ohm-m), 10 % and 90 %, not symmetric about the
   * mean; left out where only `sd` is known.
   */
  readonly p10?: readonly Float64Array[];
  readonly p90?: readonly Float64Array[];
  /**
   * For each slice, n standard deviations from the readings' noise alone, as between repeats over
   * the same ground. Smaller than `sd`, which also holds what the readings do not resolve. Left out
   * where it is not known; `sd` is then used instead.
   */
  readonly repeatSd?: readonly Float64Array[];
  /**
   * Averaging kernel, k × k entries of n values: [a][b][i] is the change of the estimate of slice a
   * at station i when log resistivity changes by one throughout slice b alone, along the whole
   * line; the identity at full resolution. Left out where it is not known.
   */
  readonly averaging?: readonly (readonly Float64Array[])[];
  /** Posterior draws, [draw][slice] of n values of log10(ohm-m); left out without `draws`. */
  readonly draws?: readonly (readonly Float64Array[])[];
  /** For each station why it has no estimate; "" where it has one. */
  readonly gap: readonly ("" | "set aside" | "no readings")[];
  /** For each station in a gap that was set aside, what for, in a word or two; "" elsewhere. */
  readonly gapCause?: readonly string[];
  /** Where walks had no position from GPS; left out where it is not known. */
  readonly gpsGaps?: readonly GpsGap[];
  /** n elevations of the crest, m above the survey's datum; left out where not surveyed. */
  readonly crestElevation_m?: Float64Array;
  /** n mean heights of the coils above ground, m; NaN without readings. */
  readonly height_m?: Float64Array;
  /**
   * n mean standard deviations of the readings' chainages, m; errors of neighbours are correlated.
   * NaN where they are not known; left out where positions count as exact.
   */
  readonly positionSd_m?: Float64Array;
  /** n effective numbers of the ensemble's earths behind each station's draws; NaN in gaps. */
  readonly members?: Float64Array;
  /** Root mean square of (datum − response) / noise by station; NaN in gaps. */
  readonly misfit: Float64Array;
  /** Each channel's misfit; of a joint inversion, its noise factor, gain and zero too. */
  readonly channels?: readonly ChannelFit[];
  /**
   * For each slice what errors of the instrument do to it where each is off by its stated standard
   * deviation; left out where the line was not inverted here.
   */
  readonly errorEffects?: readonly ErrorEffects[];
  /** Misfit of the whole campaign. */
  readonly rms: number;
  readonly reliableTo_m: number;
  readonly independentLevels: number;
  /** The layered model behind the slices: m layers, the last one without a base. */
  readonly layers: LayeredModel;
  /**
   * The readings behind the estimate, averaged at the stations, channel by channel, drift off and
   * set-aside ones left out. What compares campaigns compares these; left out where not known.
   */
  readonly readings?: readonly StationChannel[];
  /** What was made of the bank's cross-section; left out by slices that were not estimated here. */
  readonly shape?: ShapeInSlices;
  readonly soilTemperature: readonly SoilTemperature[];
  readonly centreline: Centreline;
}

export interface Slice {
  readonly top_m: number;
  readonly base_m: number;
  /** True where the data resolve the slice; also below a slice that they do not. */
  readonly reliable: boolean;
  /** False where a neighbour's change moves its estimate by half of what its own does, or more. */
  readonly toldApart?: boolean;
  /**
   * The sides that the data bound the slice's mean from: "below" where it is over a value such as
   * 180 ohm-m, and how far is left to the prior. Left out where only a standard deviation is known.
   */
  readonly bounded?: "both" | "below" | "above" | "neither";
}

/** A stretch that a walk crossed with readings and without GPS. */
export interface GpsGap {
  /** The walk's resource. */
  readonly resource: string;
  readonly from_m: number;
  readonly to_m: number;
  /** True where positions were bridged by time, false where the readings have none. */
  readonly bridged: boolean;
}

/** Changes of a slice's mean by the channels' gains, zeros, drift left and coils' height, log10. */
export interface ErrorEffects {
  readonly gain: number;
  readonly zero: number;
  readonly drift: number;
  readonly height: number;
}

export interface ChannelFit {
  readonly resource: string;
  /** The channel's field. */
  readonly channel: string;
  /** What the channel measures, and with which coils. */
  readonly coils?: Channel;
  /** Root mean square of (datum − response) / noise. */
  readonly misfit: number;
  /** n residuals over their noise; NaN where there is no datum. */
  readonly residual: Float64Array;
  /** Factor on the stated noise by the residuals. */
  readonly noiseScale: number;
  /** The instrument's gain; 1 unless estimated with the whole line. */
  readonly gain: number;
  /** The instrument's zero, ppm; 0 unless estimated with the whole line. */
  readonly shift_ppm: number;
}

export interface LayeredModel {
  /** m depths of the layers' tops, the first 0. */
  readonly top_m: Float64Array;
  /** n × m, row by station: log10(ohm-m). */
  readonly log10Resistivity: Float64Array;
  /** n × m posterior standard deviations. */
  readonly sd: Float64Array;
  /** n × m: share of the prior variance that the data removed, 0 to 1. */
  readonly learned: Float64Array;
}
