import { firstOf, valueAt } from "../../../numerics/arrays.js";
import { median } from "../../../numerics/statistics/robust.js";
import type { Campaign } from "../../../survey/survey.js";
import type { StationChannel, Stations } from "../../data/gather-stations.js";
import { ppmPerUnit, stationNoise } from "../../data/noise-model.js";
import { forwardsByHeight } from "../../data/station-forward.js";
import type { DepthOptions, DepthTie } from "../../options.js";
import type { StationForward } from "../station/invert-station.js";

/**
 * The data of a line's inversion: n stations, c channels, m layers. A station has q unknowns: its
 * m whitened layers, and where `walkSd` is not 0, an error of each walk common to its channels.
 */
export interface LineData {
  readonly n: number;
  readonly c: number;
  readonly m: number;
  readonly q: number;
  /** Unknowns of the whole line: c errors of gains, and c of zeros where any zero may be off. */
  readonly b: number;
  readonly top_m: Float64Array;
  readonly spacing_m: number;
  /** n × c, row by station, ppm; NaN where a channel has nothing. */
  readonly value_ppm: Float64Array;
  /** n × c standard deviations of what differs from station to station, ppm. */
  readonly sd_ppm: Float64Array;
  /** n entries: 1 where the station has a datum or a tie. */
  readonly known: Uint8Array;
  /** c standard deviations of an error of each channel's gain, share, constant along the line. */
  readonly gainSd: Float64Array;
  /** c standard deviations of an error of each channel's zero, ppm, constant along the line. */
  readonly shiftSd_ppm: Float64Array;
  /** c numbers of the walk (pass) that each channel belongs to. */
  readonly walk: Int32Array;
  /** Standard deviation of an error common to all channels of a walk, share of the response. */
  readonly walkSd: number;
  /** Correlation of it between neighbouring stations, 0 to 1. */
  readonly walkCorrelation: number;
  readonly ties: readonly StationTie[];
  /** The channels' response at a station's coil height. */
  forward(station: number): StationForward;
}

/** A constraint on a column from other sources: Σ weight × ln conductivity = value ± sd. */
export interface StationTie {
  readonly station: number;
  readonly weights: Float64Array;
  readonly lnConductivity: number;
  readonly sd: number;
}

export function lineData(campaign: Campaign, stations: Stations, used: DepthOptions): LineData {
  const n = stations.chainage_m.length;
  const c = stations.channels.length;
  const top_m = Float64Array.from(used.layerTops_m);
  const value_ppm = new Float64Array(n * c);
  const sd_ppm = new Float64Array(n * c);
  const known = new Uint8Array(n);
  for (const [d, entry] of stations.channels.entries()) {
    const factor = ppmPerUnit(entry.channel);
    for (let i = 0; i < n; i++) {
      value_ppm[i * c + d] = valueAt(entry.mean, i) * factor;
      const noise = stationNoise(withRepeats(entry, i), i, used);
      sd_ppm[i * c + d] = Math.hypot(noise, positionNoise(entry, stations, i) * factor);
      if (!Number.isNaN(valueAt(entry.mean, i))) known[i] = 1;
    }
  }
  const shiftSd_ppm = Float64Array.from(stations.channels, (entry) =>
    Math.hypot(used.shiftSd_ppm, driftLeft(campaign, entry)),
  );
  const ties = used.ties.map((tie) => stationTie(tie, stations, top_m));
  for (const tie of ties) known[tie.station] = 1;
  const tied = ties.length > 0;
  const walks = [...new Set(stations.channels.map((entry) => entry.resource))];
  return {
    n,
    c,
    m: top_m.length,
    q: top_m.length + (used.walkSd > 0 ? walks.length : 0),
    b: shiftSd_ppm.some((sd) => sd > 0) ? 2 * c : c,
    top_m,
    spacing_m: stations.spacing_m,
    value_ppm,
    sd_ppm,
    known,
    gainSd: new Float64Array(c).fill(used.gainSd ?? (tied ? TIED_GAIN_SD : GAIN_SD)),
    shiftSd_ppm,
    walk: Int32Array.from(stations.channels, (entry) => walks.indexOf(entry.resource)),
    walkSd: used.walkSd,
    walkCorrelation: Math.exp(-stations.spacing_m / used.walkAlong_m),
    ties,
    forward: forwardsByHeight(stations, top_m),
  };
}

/** Common practice: what a calibration leaves of a coil pair's gain. */
const GAIN_SD = 0.01;
/** Ties constrain the gains, so the prior on them can be wider. */
const TIED_GAIN_SD = 0.05;

/** The entry with its noise from repeats where they are known. */
function withRepeats(entry: StationChannel, i: number): StationChannel {
  const { repeats } = entry;
  if (repeats === undefined) return entry;
  return { ...entry, noise: Math.hypot(repeats.floor, repeats.share * valueAt(entry.mean, i)) };
}

/** Error of a station's mean by its position: slope along the line × deviation, unit. */
function positionNoise(entry: StationChannel, stations: Stations, i: number): number {
  const sd_m = valueAt(stations.positionSd_m, i);
  const slope =
    (valueAt(entry.mean, i + 1) - valueAt(entry.mean, i - 1)) / (2 * stations.spacing_m);
  return sd_m > 0 && Number.isFinite(slope) ? Math.abs(slope) * sd_m : 0;
}

/** The median uncertainty that drift correction left in a channel, ppm: it varies slowly. */
function driftLeft(campaign: Campaign, entry: StationChannel): number {
  const pass = campaign.passes.find((one) => one.resource === entry.resource);
  const at = pass?.instrument.channels.indexOf(entry.channel) ?? -1;
  const left = median(pass?.driftSd?.[at] ?? []);
  return Number.isNaN(left) ? 0 : left * ppmPerUnit(entry.channel);
}

/** A tie at the station that is nearest to it. */
function stationTie(tie: DepthTie, stations: Stations, top_m: Float64Array): StationTie {
  const station = Math.round((tie.chainage_m - firstOf(stations.chainage_m)) / stations.spacing_m);
  const shares = Float64Array.from(top_m, (top, j) => {
    const base = Math.min(tie.base_m, top_m[j + 1] ?? Number.POSITIVE_INFINITY);
    return Math.max(0, base - Math.max(tie.top_m, top));
  });
  const weights = shares.map((share) => share / (tie.base_m - tie.top_m));
  const lnConductivity = -Math.log(tie.resistivity_ohm_m);
  return { station, weights, lnConductivity, sd: tie.log10Sd * Math.LN10 };
}
