import { coilResponse } from "../../lib/earth/coil-response.js";
import { chance } from "./chance.js";
import type { CampaignFacts, CampaignLabel } from "./facts.js";
import { type Cell, fixed, isoTime } from "./formats.js";
import type { Ground } from "./ground.js";
import {
  type Channel,
  COILS,
  channelsOf,
  driftCurve,
  driftFigures,
  noiseOf,
} from "./instrument.js";
import { metalResponse_ppm } from "./metal.js";
import { locate, straying } from "./positions.js";
import { crestResponse } from "./slopes.js";
import type { FieldDay, Orientation, Station } from "./walk.js";

/** The rows of a walk: ground, metal, drift and noise in every channel. */

/** Edges of the layers of the forward model: 0.1 m thick at the crest, finer than any inversion. */
const EDGES_M = [...steps(0, 2, 0.1), ...steps(2, 4, 0.2), ...steps(4, 8.01, 0.4)];

function steps(from: number, to: number, by: number): number[] {
  const count = Math.round((to - from) / by);
  return Array.from({ length: count }, (_, k) => Number((from + k * by).toFixed(3)));
}

export interface Earth {
  readonly conductivity_S_per_m: readonly number[];
  readonly thickness_m: readonly number[];
}

/** The ground under one chainage in layers, at field temperature. */
export function layersAt(ground: Ground, chainage_m: number, campaign: CampaignLabel): Earth {
  const thickness_m = EDGES_M.slice(1).map((edge, k) => edge - EDGES_M[k]!);
  const middles = thickness_m.map((thickness, k) => EDGES_M[k]! + thickness / 2);
  const depths = [...middles, EDGES_M.at(-1)! + 1];
  const conductivity_S_per_m = depths.map((z) => 1 / ground.resistivity(chainage_m, z, campaign));
  return { conductivity_S_per_m, thickness_m };
}

/** The ten channels over endless layers, ppm, without metal, drift and noise. */
export function groundResponse(
  earth: Earth,
  orientation: Orientation,
  height_m: number,
): readonly number[] {
  const channels = channelsOf(orientation);
  const frequencies = [...new Set(channels.map((channel) => channel.frequency_Hz))];
  const { separation_m } = COILS;
  return frequencies.flatMap((frequency_Hz) => {
    const coils = { orientation, separation_m, frequency_Hz, height_m };
    const response = coilResponse(earth, coils);
    return [response.quadrature_ppm, response.inphase_ppm];
  });
}

/** The zero of each channel of one orientation through the day. */
export function driftsOf(
  campaign: CampaignLabel,
  channels: readonly Channel[],
  day: FieldDay,
): readonly ((time_ms: number) => number)[] {
  return channels.map((channel) => {
    const random = chance(`drift-${campaign}-${channel.field}`);
    return driftCurve(driftFigures(campaign, channel), day, random);
  });
}

export const READING_HEADER = ["time", "longitude", "latitude", "line"] as const;

export interface Walk {
  readonly campaign: CampaignFacts;
  readonly orientation: Orientation;
  readonly day: FieldDay;
  readonly ground: Ground;
}

export function readingRows(walk: Walk): readonly (readonly Cell[])[] {
  const { campaign, orientation, day, ground } = walk;
  const { label } = campaign;
  const channels = channelsOf(orientation);
  const drifts = driftsOf(label, channels, day);
  const random = chance(`noise-${label}-${orientation}`);
  const stray = straying(`stray-${label}-${orientation}`);
  return day.stations[orientation].map((station) => {
    const earth = layersAt(ground, station.chainage_m, label);
    const clean = crestResponse(earth, orientation, COILS.height_m + station.wobble_m);
    const values = channels.map((channel, k) => {
      const response = clean[k]! + metalResponse_ppm(station.chainage_m, channel, label);
      const noise = noiseOf(channel, response) * random.normal();
      return fixed(response + drifts[k]!(station.time_ms) + noise, 1);
    });
    const place = positionCells(walk, station, stray(1));
    const line = `crest-${orientation.toLowerCase()}`;
    return [isoTime(station.time_ms, 1), ...place, line, ...values];
  });
}

function positionCells(
  { campaign, orientation }: Walk,
  station: Station,
  stray: { readonly east_m: number; readonly north_m: number },
): readonly Cell[] {
  const hidden = campaign.gpsGaps.some((gap) => {
    const inside = station.chainage_m >= gap.from_m && station.chainage_m <= gap.to_m;
    return gap.orientation === orientation && inside;
  });
  if (hidden) return [null, null];
  const { longitude, latitude } = locate(station.chainage_m, station.offset_m, stray);
  return [fixed(longitude, 7), fixed(latitude, 7)];
}
