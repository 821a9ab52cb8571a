import type { StationChannel } from "../../../depth/data/gather-stations.js";
import { ppmPerUnit, stationNoise } from "../../../depth/data/noise-model.js";
import type { DepthSlices } from "../../../depth/depth-slices.js";
import { entryOf, groupedBy, itemAt, valueAt } from "../../../numerics/arrays.js";
import type { Channel } from "../../../survey/survey.js";
import { alignLater } from "../align/align-later.js";
import { sampledAt } from "../align/sample-columns.js";
import type { CampaignPair } from "../check-pair.js";

/** The channels that two campaigns share, at the stations that both have, in ppm. */
export interface ChannelPair {
  /** n chainages, of the earlier campaign. */
  readonly chainage_m: Float64Array;
  readonly spacing_m: number;
  /** n stations of either campaign. */
  readonly station: { readonly earlier: Int32Array; readonly later: Int32Array };
  /** q channels. */
  readonly channels: readonly PairedChannel[];
  /** Walks that the channels come from. */
  readonly passes: number;
  /** n shifts of the later campaign against the earlier, mean of its walks, m. */
  readonly shift_m: Float64Array;
  readonly shiftSd_m: Float64Array;
}

export interface PairedChannel {
  readonly channel: Channel;
  /** Number of the walk. */
  readonly pass: number;
  /** n readings of the earlier campaign, ppm; NaN where missing. */
  readonly earlier: Float64Array;
  /** n readings of the later one less those of the earlier, at the same ground, ppm. */
  readonly difference: Float64Array;
  /** n standard deviations of the difference by the readings' own noise, ppm. */
  readonly noise: Float64Array;
  /** n standard deviations of the shift that put them side by side, m. */
  readonly shiftSd_m: Float64Array;
}

/** Noise of a station that averaging does not lower; the scan finds the rest from the line. */
const NOISE = { proportionalNoise: 0.01, floor_ppm: 5 };

/** The channels that both campaigns read with the same coils at a station; null where there is none. */
export function channelPair(
  { earlier, later }: CampaignPair,
  alignWithin_m: number,
): ChannelPair | null {
  const [a, b] = [columnsByCoils(earlier), columnsByCoils(later)];
  const station = sharedStations(earlier, later);
  const shared = [...a.keys()].filter((key) => {
    const after = b.get(key);
    return after !== undefined && meetSomewhere(entryOf(a, key), after, station);
  });
  if (shared.length === 0) return null;
  const walks = [...groupedBy(shared, (key) => `${a.get(key)?.resource}/${b.get(key)?.resource}`)];
  const { spacing_m } = earlier;
  const made = walks.map(([, keys], pass) => {
    const before = keys.map((key) => picked(entryOf(a, key), station.earlier));
    const after = keys.map((key) => entryOf(b, key));
    const shift = walkShift(before, after, { station, spacing_m, within_m: alignWithin_m });
    const channels = keys.map((_, c) =>
      paired(itemAt(before, c), itemAt(after, c), { pass, shift, station, spacing_m }),
    );
    return { shift, channels };
  });
  const meanOf = (rows: readonly Float64Array[]) =>
    station.earlier.length === 0
      ? new Float64Array()
      : Float64Array.from(station.earlier, (_, i) =>
          rows.reduce((sum, row) => sum + itemAt(row, i) / rows.length, 0),
        );
  return {
    chainage_m: Float64Array.from(station.earlier, (i) => itemAt(earlier.chainage_m, i)),
    spacing_m,
    station,
    channels: made.flatMap(({ channels }) => channels),
    passes: made.length,
    shift_m: meanOf(made.map(({ shift }) => shift.mean_m)),
    shiftSd_m: meanOf(made.map(({ shift }) => shift.sd_m)),
  };
}

interface Column {
  readonly channel: Channel;
  readonly resource: string;
  /** Values and standard deviations by station of the campaign, ppm. */
  readonly value: Float64Array;
  readonly sd: Float64Array;
}

/** One column for each pair of coils; walks over different parts of the line make one together. */
function columnsByCoils({ readings = [] }: DepthSlices): ReadonlyMap<string, Column> {
  const groups = groupedBy(readings, ({ channel }) => coilsText(channel));
  return new Map([...groups].map(([key, entries]) => [key, meanColumn(entries)]));
}

const coilsText = ({ kind, orientation, separation_m, frequency_Hz }: Channel) =>
  `${kind} ${orientation} ${separation_m} m ${frequency_Hz} Hz`;

function meanColumn(entries: readonly StationChannel[]): Column {
  const { channel, resource, mean } = itemAt(entries, 0);
  const factor = ppmPerUnit(channel);
  const [value, sd] = [mean.slice(), mean.slice()];
  for (let i = 0; i < mean.length; i++) {
    let [sum, weights] = [0, 0];
    for (const entry of entries) {
      const noise = stationNoise(entry, i, NOISE);
      if (!(noise > 0 && itemAt(entry.count, i) > 0)) continue;
      sum += (valueAt(entry.mean, i) * factor) / noise ** 2;
      weights += 1 / noise ** 2;
    }
    value[i] = sum / weights;
    sd[i] = 1 / Math.sqrt(weights);
  }
  return { channel, resource, value, sd };
}

/** Whether any station has the channel in both campaigns. */
function meetSomewhere(before: Column, after: Column, station: ChannelPair["station"]): boolean {
  return station.earlier.some((i, s) => {
    const j = itemAt(station.later, s);
    return !Number.isNaN(valueAt(before.value, i) + valueAt(after.value, j));
  });
}

function picked({ channel, resource, value, sd }: Column, at: Int32Array): Column {
  const of = (row: Float64Array) => Float64Array.from(at, (i) => valueAt(row, i));
  return { channel, resource, value: of(value), sd: of(sd) };
}

/** Indices of the stations that both campaigns have at one chainage. */
function sharedStations(earlier: DepthSlices, later: DepthSlices): ChannelPair["station"] {
  const key = (x: number) => Math.round(x / earlier.spacing_m);
  const at = new Map(Array.from(later.chainage_m, (x, j) => [key(x), j]));
  const both = Array.from(earlier.chainage_m, (x, i) => [i, at.get(key(x)) ?? -1] as const);
  const shared = both.filter(([, j]) => j >= 0);
  return {
    earlier: Int32Array.from(shared, ([i]) => i),
    later: Int32Array.from(shared, ([, j]) => j),
  };
}

interface WalkShift {
  readonly mean_m: Float64Array;
  readonly sd_m: Float64Array;
}

interface Placed {
  readonly station: ChannelPair["station"];
  readonly spacing_m: number;
}

/** Fewer stations than this determine no shift. */
const LEAST_STATIONS = 30;

/** Each walk has positions of its own, so a shift of its own. */
function walkShift(
  before: readonly Column[],
  after: readonly Column[],
  { station, spacing_m, within_m }: Placed & { readonly within_m: number },
): WalkShift {
  const n = station.later.length;
  if (!(within_m > 0) || n < LEAST_STATIONS) {
    return { mean_m: new Float64Array(n), sd_m: new Float64Array(n) };
  }
  const values = (columns: readonly Column[]) => columns.map(({ value }) => value);
  const ahead = itemAt(station.later, 0);
  return alignLater({ earlier: values(before), later: values(after), ahead, spacing_m }, within_m);
}

function paired(
  before: Column,
  after: Column,
  at: Placed & { readonly pass: number; readonly shift: WalkShift },
): PairedChannel {
  const { shift, station, spacing_m, pass } = at;
  const place = (i: number) => itemAt(station.later, i) + itemAt(shift.mean_m, i) / spacing_m;
  return {
    channel: before.channel,
    pass,
    earlier: before.value,
    difference: before.value.map((value, i) => sampledAt(after.value, place(i)) - value),
    noise: before.sd.map((sd, i) => Math.hypot(sd, sampledAt(after.sd, place(i)))),
    shiftSd_m: shift.sd_m,
  };
}
