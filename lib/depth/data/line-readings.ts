import type { PartsBelow } from "../../earth/embankment/layer-parts.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import type { Campaign, Channel } from "../../survey/survey.js";
import type { DepthOptions, DepthTie } from "../options.js";
import type { StationChannel, Stations } from "./gather-stations.js";
import { ppmPerUnit } from "./noise-model.js";
import { scaled, scaledSlope } from "./reading-scale.js";

/**
 * A line's readings and the covariance of their errors: n stations, c channels on the reading scale
 * and after them the ties as further data, ln(S/m).
 */
export interface LineReadings {
  readonly n: number;
  readonly channels: readonly Channel[];
  readonly knee_ppm: Float64Array;
  readonly ties: readonly TiedInterval[];
  /** c and the number of ties. */
  readonly width: number;
  /** n × width values; NaN where there is none. */
  readonly value: Float64Array;
  /** n × width deviations that differ along the line: of wrong positions and heights. */
  readonly known: Float64Array;
  /** Deviations by an unknown gain, zero and drift, at the line's typical reading; of ties 0. */
  readonly common: Float64Array;
  /** What it is made of, by cause, each c deviations on the reading scale at the typical reading. */
  readonly errors: Readonly<Record<"gain" | "zero" | "drift", Float64Array>>;
  /** Stated noise that differs from station to station, before any is found. */
  readonly stated: Float64Array;
  /** n heights of the coils; the median where a station has none. */
  readonly height_m: Float64Array;
  /** By channel, what the bank takes from depth to depth; left out over level ground. */
  readonly bank?: readonly PartsBelow[];
  readonly walk: Int32Array;
  readonly walks: number;
  /** Standard deviation of the coils' height on a walk at a place, m. */
  readonly heightSd_m: number;
}

/** Depths that a tie holds between. */
export type TiedInterval = Pick<DepthTie, "top_m" | "base_m">;

/** Least floor, ppm, and share of a value: an instrument without noise would have no scale. */
const LEAST_PPM = 0.5;
const LEAST_SHARE = 0.005;
/** What a tie's own deviation does not say, ln units. */
const TIE_WHITE = 0.02;

export function lineReadings(
  campaign: Campaign,
  stations: Stations,
  used: DepthOptions,
): LineReadings {
  const arrays = emptyArrays(stations, used);
  const shaped = shapedStations(stations);
  const channels = [...stations.channels.keys()];
  for (const d of channels) addChannel(arrays, d, { campaign, stations, used, shaped });
  addTies(arrays, stations, used);
  const walks = [...new Set(stations.channels.map((entry) => entry.resource))];
  const usual = median(stations.height_m);
  return {
    ...arrays,
    n: stations.chainage_m.length,
    ties: used.ties,
    channels: stations.channels.map((entry) => entry.channel),
    height_m: stations.height_m.map((height) => (Number.isNaN(height) ? usual : height)),
    walk: Int32Array.from(stations.channels, (entry) => walks.indexOf(entry.resource)),
    walks: walks.length,
    heightSd_m: used.heightSd_m,
    ...(shaped.parts && { bank: shaped.parts }),
  };
}

type Arrays = Pick<
  LineReadings,
  "knee_ppm" | "width" | "value" | "known" | "common" | "errors" | "stated"
>;

function emptyArrays(stations: Stations, { ties }: DepthOptions): Arrays {
  const c = stations.channels.length;
  const width = c + ties.length;
  const n = stations.chainage_m.length;
  const byChannel = () => new Float64Array(c);
  return {
    width,
    knee_ppm: byChannel(),
    value: new Float64Array(n * width).fill(Number.NaN),
    known: new Float64Array(n * width),
    common: new Float64Array(width),
    errors: { gain: byChannel(), zero: byChannel(), drift: byChannel() },
    stated: new Float64Array(width).fill(TIE_WHITE),
  };
}

interface Walked {
  readonly campaign: Campaign;
  readonly stations: Stations;
  readonly used: DepthOptions;
  readonly shaped: ReturnType<typeof shapedStations>;
}

function addChannel(to: Arrays, d: number, { campaign, stations, used, shaped }: Walked): void {
  const entry = itemAt(stations.channels, d);
  const share = Math.max(used.proportionalNoise, LEAST_SHARE);
  const factor = ppmPerUnit(entry.channel);
  const knee = floorOf(entry, factor, used) / share;
  for (const i of stations.chainage_m.keys()) {
    const ratio = shaped.ratio(i, d);
    const ppm = valueAt(entry.mean, i) * factor * ratio;
    const off = Math.hypot(misplaced(entry, stations, i) * factor, OTHER * (ratio - 1) * ppm);
    to.value[i * to.width + d] = scaled(ppm, knee);
    to.known[i * to.width + d] = off * scaledSlope(ppm, knee);
  }
  const typical = factor * median(entry.mean.map(Math.abs)) || 0;
  const slope = scaledSlope(typical, knee);
  const gain = gainSdOf(used) * typical * slope;
  const zero = used.shiftSd_ppm * slope;
  const drift = driftLeft(campaign, entry) * factor * slope;
  const doubt = shaped.doubt(d) * typical * slope;
  to.errors.gain[d] = gain;
  to.errors.zero[d] = zero;
  to.errors.drift[d] = drift;
  to.common[d] = Math.hypot(gain, doubt, zero, drift);
  to.stated[d] = share;
  to.knee_ppm[d] = knee;
}

function addTies(to: Arrays, stations: Stations, { ties }: DepthOptions): void {
  for (const [t, tie] of ties.entries()) {
    for (const { station, sd } of tied(tie, stations)) {
      const at = station * to.width + stations.channels.length + t;
      to.value[at] = -Math.log(tie.resistivity_ohm_m);
      to.known[at] = sd;
    }
  }
}

/** How far readings over another cross-section are in doubt, as a share of what is changed. */
const OTHER = 0.3;

/**
 * Readings are taken over one cross-section, that of most stations: those over another by the ratio
 * of homogeneous banks.
 */
function shapedStations({ bank, channels }: Stations) {
  const shapes = bank?.shapes.of ?? new Int32Array(0);
  const known = [...new Set(shapes)].filter((shape) => shape >= 0);
  const times = (shape: number) => shapes.filter((one) => one === shape).length;
  const most = known.reduce((best, one) => (times(one) > times(best) ? one : best), known[0] ?? -1);
  if (bank === undefined || most < 0) return { ratio: () => 1, doubt: () => 0, parts: null };
  const level = new Float64Array(channels.length).fill(1);
  const factors = new Map(known.map((shape) => [shape, bank.factors(shape)]));
  const usual = bank.factors(most);
  const ratio = (i: number, d: number) =>
    valueAt(usual, d) / valueAt(factors.get(itemAt(shapes, i)) ?? level, d);
  const doubts = bank.factorSd(most);
  return { ratio, doubt: (d: number) => valueAt(doubts, d), parts: bank.parts(most) };
}

/** Gains are less certain where there is something to find them by. */
function gainSdOf({ gainSd, ties }: DepthOptions): number {
  return gainSd ?? (ties.length > 0 ? 0.05 : 0.01);
}

/** How far a tie says something of other stations, m, and how ground differs along it, ln units. */
const TIE_REACH_M = 8;
const TIE_ALONG_M = 15;
const GROUND_SD = 0.5;

/** Stations that a tie speaks of, with its deviation there: it grows with distance. */
function tied({ chainage_m, log10Sd }: DepthTie, stations: Stations) {
  return Array.from(stations.chainage_m, (x, station) => {
    const away_m = Math.abs(x - chainage_m);
    const differs = GROUND_SD * Math.sqrt(-Math.expm1((-2 * away_m) / TIE_ALONG_M));
    return { station, away_m, sd: Math.hypot(Math.LN10 * log10Sd, differs) };
  }).filter(({ away_m }) => away_m <= Math.max(TIE_REACH_M, stations.spacing_m / 2));
}

/** Noise floor of a station's mean, ppm: what the share of the value does not make up for. */
function floorOf(entry: StationChannel, factor: number, used: DepthOptions): number {
  const counts = Float64Array.from(entry.count).filter((count) => count > 0);
  const typical = factor * median(entry.mean.map(Math.abs));
  const share = used.proportionalNoise * (Number.isNaN(typical) ? 0 : typical);
  const noise = factor * (entry.ownNoise ?? entry.noise);
  const single = entry.repeats
    ? entry.repeats.floor * factor
    : Math.sqrt(Math.max(0, noise ** 2 - share ** 2));
  const floor = Math.max(single, used.floor_ppm, LEAST_PPM);
  return floor / Math.sqrt(Math.max(1, counts.length > 0 ? median(counts) : 1));
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
