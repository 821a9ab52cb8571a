import type { DepthSlices } from "../../depth/depth-slices.js";
import { firstOf, itemAt, zipped } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import { type SharedGround, sharedGround } from "../pair/shared-ground.js";
import { unknownStretches } from "../pair/unknown-stretches.js";
import { type DepthRange, sameDepths } from "../ranges.js";
import { smoothed } from "../smooth.js";
import { shiftsTo25 } from "../to-25-degrees.js";
import type { CampaignSeries } from "./trend.js";

interface SeriesOptions {
  readonly level: "majority" | "none";
  readonly smoothing_m: number;
}

/** Series before their levels are taken off and they are smoothed. */
export interface RawSeries
  extends Pick<CampaignSeries, "campaigns" | "time_s" | "chainage_m" | "slices" | "unknown"> {
  readonly spacing_m: number;
  /** By campaign and slice, n values of log10 resistivity over the first campaign's. */
  readonly ratio: readonly (readonly Float64Array[])[];
  /** True where every campaign was taken to 25 °C. */
  readonly corrected: boolean;
}

/**
 * Co-registers every campaign to the first one's chainage, on the slices and stations that all
 * share. The first campaign's own log ratios are 0: its errors are common to all others, so they
 * change no order and no slope over time.
 */
export function rawSeries(given: readonly DepthSlices[], alignWithin_m: number): RawSeries {
  const sorted = [...given].sort((one, other) => one.time_s - other.time_s);
  const first = firstOf(sorted);
  const grounds = sorted.slice(1).map((later) => sharedGround(first, later, alignWithin_m));
  const slices = firstOf(grounds).slices.filter((slice) =>
    grounds.every((ground) => !ground.resliced && sliceAt(ground, slice) >= 0),
  );
  const chainage_m = firstOf(grounds).chainage_m.filter((x) =>
    grounds.every((ground) => stationAt(ground, x) >= 0),
  );
  const shifts = sorted.map((one) => shiftsTo25(one, slices));
  const known = shifts.filter((shift) => shift !== null);
  const corrected = known.length === shifts.length;
  const differences = grounds.map((ground, c) =>
    slices.map((slice, k) => {
      const shift = corrected ? itemAt(itemAt(known, c + 1), k) - itemAt(firstOf(known), k) : 0;
      const column = itemAt(ground.difference, sliceAt(ground, slice));
      return chainage_m.map((x) => itemAt(column, stationAt(ground, x)) + shift);
    }),
  );
  const own = slices.map((slice) => firstColumn(firstOf(grounds), slice, chainage_m));
  const ratio = [own, ...differences];
  const { spacing_m } = first;
  return {
    campaigns: sorted.map((one) => one.campaign),
    time_s: Float64Array.from(sorted, (one) => one.time_s),
    chainage_m,
    spacing_m,
    slices,
    ratio,
    corrected,
    unknown: unknownStretches({
      chainage_m,
      spacing_m,
      unknown: Array.from(chainage_m, (_, i) => ratio.flat().every((one) => Number.isNaN(one[i]))),
      outside: [],
    }),
  };
}

/** 0 where the first campaign has an estimate. */
function firstColumn(ground: SharedGround, slice: DepthRange, chainage_m: Float64Array) {
  const known = itemAt(ground.firstKnown, sliceAt(ground, slice));
  return chainage_m.map((x) => (known[stationAt(ground, x)] === 1 ? 0 : Number.NaN));
}

/** The station at a chainage; −1 where the ground ends before it. */
function stationAt({ chainage_m, spacing_m }: SharedGround, x: number): number {
  const i = Math.round((x - (chainage_m[0] ?? 0)) / spacing_m);
  return i < chainage_m.length ? i : -1;
}

const sliceAt = ({ slices }: SharedGround, slice: DepthRange) =>
  slices.findIndex((one) => sameDepths(one, slice));

/**
 * Takes each campaign's level off and smooths along the line. The level of a slice is the median
 * over the stations that are not `moving` (1), those with a trend.
 */
export function levelledSeries(
  raw: RawSeries,
  moving: Uint8Array,
  options: SeriesOptions,
): CampaignSeries {
  const window = 2 * Math.floor(options.smoothing_m / raw.spacing_m / 2) + 1;
  const ones = new Float64Array(raw.chainage_m.length).fill(1);
  const levelOf = (column: Float64Array) =>
    median(column.map((value, i) => (moving[i] === 1 ? Number.NaN : value))) || 0;
  const level = raw.ratio.map((columns) =>
    columns.map((column) => (options.level === "none" ? 0 : levelOf(column))),
  );
  const log10Ratio = zipped(raw.ratio, level).map(([columns, levels]) =>
    zipped(columns, levels).map(
      ([column, off]) =>
        smoothed(
          column.map((value) => value - off),
          ones,
          window,
        ).value,
    ),
  );
  const { campaigns, time_s, chainage_m, slices, unknown } = raw;
  return { campaigns, time_s, chainage_m, slices, log10Ratio, level, unknown };
}
