import { median } from "../../../numerics/statistics/robust.js";
import type { Campaign, Channel } from "../../../survey/survey.js";
import type { StationChannel, Stations } from "../../data/gather-stations.js";
import { ppmPerUnit } from "../../data/noise-model.js";
import type { DepthOptions } from "../../options.js";
import { scaled, scaledSlope } from "./reading-scale.js";

/** A line's readings as the ensemble takes them: n stations, c channels, on the reading scale. */
export interface EnsembleReadings {
  readonly n: number;
  readonly channels: readonly Channel[];
  readonly knee_ppm: Float64Array;
  /** n × c values; NaN where a channel has nothing. */
  readonly value: Float64Array;
  /** n × c deviations that earlier steps know of: drift and zero left, wrong positions. */
  readonly known: Float64Array;
  /** c deviations of an unknown gain, median of the line. */
  readonly gain: Float64Array;
  /** Stated noise of all channels on the scale: the share of the value. */
  readonly stated: number;
  /** n heights of the coils; the median where a station has none. */
  readonly height_m: Float64Array;
  readonly walk: Int32Array;
  readonly walks: number;
  /** Standard deviation of the coils' height at a place, m. */
  readonly heightSd_m: number;
}

/** Common practice: what a calibration leaves of a coil pair's gain. */
const GAIN_SD = 0.01;
/** What an error of one part in one of a walk's response is as an error of the coils' height, m. */
const HEIGHT_OF_SHARE_M = 0.75;
/** Least floor, ppm: an instrument without noise would have no scale. */
const LEAST_PPM = 0.5;

export function ensembleReadings(
  campaign: Campaign,
  stations: Stations,
  used: DepthOptions,
): EnsembleReadings {
  const n = stations.chainage_m.length;
  const c = stations.channels.length;
  const factor = Float64Array.from(stations.channels, (entry) => ppmPerUnit(entry.channel));
  const knee_ppm = Float64Array.from(
    stations.channels,
    (entry, d) => floorOf(entry, factor[d]!, used) / used.proportionalNoise,
  );
  const value = new Float64Array(n * c);
  const known = new Float64Array(n * c);
  for (const [d, entry] of stations.channels.entries()) {
    const drift = driftLeft(campaign, entry) * factor[d]!;
    for (let i = 0; i < n; i++) {
      const ppm = entry.mean[i]! * factor[d]!;
      const off = Math.hypot(drift, used.shiftSd_ppm, misplaced(entry, stations, i) * factor[d]!);
      value[i * c + d] = scaled(ppm, knee_ppm[d]!);
      known[i * c + d] = off * scaledSlope(ppm, knee_ppm[d]!);
    }
  }
  const walks = [...new Set(stations.channels.map((entry) => entry.resource))];
  const usual = median(stations.height_m);
  return {
    n,
    channels: stations.channels.map((entry) => entry.channel),
    knee_ppm,
    value,
    known,
    gain: Float64Array.from(stations.channels, (entry, d) => {
      const ppm = median(entry.mean.map(Math.abs)) * factor[d]!;
      return (used.gainSd ?? GAIN_SD) * ppm * scaledSlope(ppm, knee_ppm[d]!);
    }),
    stated: used.proportionalNoise,
    height_m: stations.height_m.map((height) => (Number.isNaN(height) ? usual : height)),
    walk: Int32Array.from(stations.channels, (entry) => walks.indexOf(entry.resource)),
    walks: walks.length,
    heightSd_m: used.walkSd * HEIGHT_OF_SHARE_M,
  };
}

/** Noise floor of a station's mean, ppm. */
function floorOf(entry: StationChannel, factor: number, used: DepthOptions): number {
  const typical = median(Float64Array.from(entry.count).filter((count) => count > 0));
  const single = Math.max(entry.repeats?.floor ?? entry.noise, 0) * factor;
  const floor = Math.max(single, used.floor_ppm, LEAST_PPM);
  return floor / Math.sqrt(Math.max(1, Number.isNaN(typical) ? 1 : typical));
}

/** The typical uncertainty that drift correction left in a channel, its unit: it moves slowly. */
function driftLeft(campaign: Campaign, entry: StationChannel): number {
  const pass = campaign.passes.find((one) => one.resource === entry.resource);
  const at = pass?.instrument.channels.indexOf(entry.channel) ?? -1;
  const left = median(pass?.driftSd?.[at] ?? []);
  return Number.isNaN(left) ? 0 : left;
}

/** What a wrong position may make of a station's mean: slope along the line × deviation, unit. */
function misplaced(entry: StationChannel, stations: Stations, i: number): number {
  const sd_m = stations.positionSd_m[i]!;
  const slope = (entry.mean[i + 1]! - entry.mean[i - 1]!) / (2 * stations.spacing_m);
  return sd_m > 0 && Number.isFinite(slope) ? Math.abs(slope) * sd_m : 0;
}
