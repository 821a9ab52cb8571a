import type { Centreline, Channel, SoilTemperature } from "../survey/survey.js";
import type { PriorHyperparameters } from "./prior/line-prior.js";

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
  /** For each slice, n values of log10(ohm-m) at field temperature; NaN where there is no estimate. */
  readonly log10Resistivity: readonly Float64Array[];
  /** For each slice, n posterior standard deviations of the same. */
  readonly sd: readonly Float64Array[];
  /**
   * For each slice, n standard deviations from the readings' noise alone: how far a repeat over the
   * same ground may differ. Smaller than `sd`, which also holds what no reading tells and a repeat
   * would not tell either. Left out where it is not known; `sd` then stands for it.
   */
  readonly repeatSd?: readonly Float64Array[];
  /**
   * k × k entries of n values: [a][b][i] is how much the estimate of slice a at station i changes
   * when log resistivity changes by one throughout slice b alone, along the whole line; the identity
   * if the data told all.
   * Left out where it is not known.
   */
  readonly averaging?: readonly (readonly Float64Array[])[];
  /** Posterior draws, [draw][slice] of n values of log10(ohm-m); left out where none were asked for. */
  readonly draws?: readonly (readonly Float64Array[])[];
  /** For each station why it has no estimate: "" where it has one, else "set aside" or "no readings". */
  readonly gap: readonly ("" | "set aside" | "no readings")[];
  /** For each station in a gap that was set aside, what for, in a word or two; "" elsewhere. */
  readonly gapCause?: readonly string[];
  /** Where walks had no position from GPS; left out where it is not known. */
  readonly gpsGaps?: readonly GpsGap[];
  /** n elevations of the crest, m above the survey's datum; left out where no survey tells them. */
  readonly crestElevation_m?: Float64Array;
  /** n mean heights of the coils above ground, m; NaN without readings. */
  readonly height_m?: Float64Array;
  /**
   * n mean standard deviations of the readings' chainages, m: neighbours err together. NaN where nothing
   * tells them; left out where positions are taken to be right.
   */
  readonly positionSd_m?: Float64Array;
  /** Root mean square of (datum − response) / noise by station; NaN in gaps. */
  readonly misfit: Float64Array;
  /** Each channel's part in the misfit; of a line taken together, what became of its noise, gain and zero. */
  readonly channels?: readonly ChannelFit[];
  /** Misfit of the whole campaign. */
  readonly rms: number;
  readonly reliableTo_m: number;
  readonly independentLevels: number;
  /** The layered model behind the slices: m layers, the last one going on for ever. */
  readonly layers: LayeredModel;
  /** The prior's strengths that the readings were most likely under, or the given ones. */
  readonly strengths?: PriorHyperparameters;
  readonly soilTemperature: readonly SoilTemperature[];
  readonly centreline: Centreline;
}

export interface Slice {
  readonly top_m: number;
  readonly base_m: number;
  /** True where the slice lies within the reliable depth. */
  readonly reliable: boolean;
  /** False where its estimate answers to a neighbour's change half as much as to its own, or more. */
  readonly toldApart?: boolean;
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
  /** Factor on the stated noise under which the residuals are as large as they should be. */
  readonly noiseScale: number;
  /** The instrument's gain over the response of a layered earth; 1 but for what the line tells. */
  readonly gain: number;
  /** The instrument's zero, ppm, that the line tells to be left in the readings. */
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
