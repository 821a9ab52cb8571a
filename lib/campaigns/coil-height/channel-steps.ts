import { ppmPerUnit } from "../../depth/data/noise-model.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import { valueAt } from "../../numerics/arrays.js";
import { presentCount, presentMean } from "../../numerics/statistics/present.js";
import type { Channel } from "../../survey/survey.js";
import { channelCovariance } from "../pair/channels/line/line-noise.js";

/** The channels of a line that see ground and height alike: in-phase, whose zero is not known, not. */
export interface LineChannels {
  readonly chainage_m: Float64Array;
  readonly spacing_m: number;
  readonly channels: readonly Channel[];
  /** For each channel the number of its walk. */
  readonly walk: readonly number[];
  /** For each channel n readings, ppm; NaN where missing. */
  readonly value: readonly Float64Array[];
}

export function lineChannels({ readings = [], chainage_m, spacing_m }: DepthSlices): LineChannels {
  const used = readings.filter(({ channel }) => channel.kind !== "inphase");
  const walks = [...new Set(used.map(({ resource }) => resource))];
  return {
    chainage_m,
    spacing_m,
    channels: used.map(({ channel }) => channel),
    walk: used.map(({ resource }) => walks.indexOf(resource)),
    value: used.map(({ mean, channel }) => mean.map((one) => one * ppmPerUnit(channel))),
  };
}

/** Stations on either side of a place. */
export interface Sides {
  readonly before: readonly [number, number];
  readonly after: readonly [number, number];
}

/** Metres of line on either side that are held against each other … */
const SIDE_M = 24;
/** … and those next to the place that are left out: it may lie a little to either side. */
const EDGE_M = 3;
/** Fewer readings on a side tell no mean. */
const LEAST = 3;

/** The stations beside station i, within first … last − 1. */
export function sidesOf({ spacing_m }: LineChannels, i: number, [first, last] = [0, Infinity]) {
  const edge = Math.max(1, Math.round(EDGE_M / spacing_m));
  const side = Math.max(LEAST, Math.round(SIDE_M / spacing_m));
  return {
    before: [Math.max(first, i - edge - side), Math.max(0, i - edge)],
    after: [i + edge, Math.min(last, i + edge + side)],
  } satisfies Sides;
}

/**
 * By how much each channel is higher after a place than before it, as a share of their mean; NaN
 * where few readings or none over zero say it.
 */
export function stepBetween({ value }: LineChannels, { before, after }: Sides): Float64Array {
  return Float64Array.from(value, (column) => {
    const [was, is] = [before, after].map(([from, to]) => {
      const part = column.subarray(from, to);
      return presentCount(part) < LEAST ? Number.NaN : presentMean(part);
    }) as [number, number];
    return was > 0 && is > 0 ? relative(is, was) : Number.NaN;
  });
}

/** (is − was) over their mean: nearly the logarithm of their ratio. */
export const relative = (is: number, was: number) => (2 * (is - was)) / (is + was);

/** What a response may be off by, as a share of it: gains, layers that are not known well. */
const OWN_ERROR = 0.03;

/**
 * q × q covariance of the steps that the line has where there is no boundary: noise, swaying coils
 * and the ground's texture, as they are. Null where too little of it is far enough from boundaries.
 */
export function stepCovariance(
  line: LineChannels,
  boundaries_m: readonly number[],
): Float64Array | null {
  const q = line.channels.length;
  const isFar = (i: number) =>
    boundaries_m.every((at_m) => Math.abs(valueAt(line.chainage_m, i) - at_m) >= SIDE_M + EDGE_M);
  const margin = Math.round((SIDE_M + EDGE_M) / line.spacing_m);
  const places = [...line.chainage_m.keys()].slice(margin, -margin).filter(isFar);
  if (places.length * line.spacing_m < 2 * SIDE_M) return null;
  const value = new Float64Array(places.length * q);
  for (const [k, i] of places.entries()) value.set(stepBetween(line, sidesOf(line, i)), k * q);
  const weight = new Float64Array(places.length).fill(1);
  return channelCovariance({ value, q, weight }).map((one, at) =>
    at % (q + 1) === 0 ? one + OWN_ERROR ** 2 : one,
  );
}
