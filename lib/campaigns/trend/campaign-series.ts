import type { DepthSlices } from "../../depth/depth-slices.js";
import { median } from "../../numerics/robust.js";
import { type SharedGround, sharedGround } from "../pair/shared-ground.js";
import { unknownStretches } from "../pair/unknown-stretches.js";
import type { DepthRange } from "../ranges.js";
import { smoothed } from "../smooth.js";
import { shiftsTo25 } from "../to-25-degrees.js";
import type { CampaignSeries } from "./trend.js";

export interface SeriesOptions {
  readonly level: "majority" | "none";
  readonly smoothing_m: number;
  readonly alignWithin_m: number;
}

/** Series before their levels are taken off and they are smoothed. */
export interface RawSeries {
  readonly campaigns: readonly string[];
  readonly time_s: Float64Array;
  readonly chainage_m: Float64Array;
  readonly spacing_m: number;
  readonly slices: readonly DepthRange[];
  /** By campaign and slice, n values of log10 resistivity over the first campaign's. */
  readonly ratio: readonly (readonly Float64Array[])[];
  readonly corrected: boolean;
  readonly unknown: CampaignSeries["unknown"];
}

/**
 * Co-registers every campaign to the first one's chainage, on the slices and stations that all
 * share. The first campaign's own log ratios are 0: its errors are common to all others, so they
 * change no order and no slope over time.
 */
export function rawSeries(given: readonly DepthSlices[], alignWithin_m: number): RawSeries {
  const sorted = [...given].sort((one, other) => one.time_s - other.time_s);
  const [first, ...others] = sorted as [DepthSlices, ...DepthSlices[]];
  const grounds = others.map((later) => sharedGround(first, later, alignWithin_m));
  const slices = grounds[0]!.slices.filter((slice) =>
    grounds.every((ground) => !ground.resliced && indexOf(ground, slice) >= 0),
  );
  const chainage_m = grounds[0]!.chainage_m.filter((x) =>
    grounds.every((ground) => at(ground, x) >= 0),
  );
  const shifts = sorted.map((one) => shiftsTo25(one, slices));
  const corrected = shifts.every((shift) => shift !== null);
  const ratio = [
    slices.map((slice) => firstColumn(grounds[0]!, slice, chainage_m)),
    ...grounds.map((ground, c) =>
      slices.map((slice, k) => {
        const shift = corrected ? shifts[c + 1]![k]! - shifts[0]![k]! : 0;
        const column = ground.difference[indexOf(ground, slice)]!;
        return chainage_m.map((x) => column[at(ground, x)]! + shift);
      }),
    ),
  ];
  const unknown = unknownStretches({
    chainage_m,
    spacing_m: first.spacing_m,
    unknown: Array.from(chainage_m, (_, i) =>
      ratio.every((columns) => columns.every((column) => Number.isNaN(column[i]!))),
    ),
    outside: [],
  });
  const campaigns = sorted.map((one) => one.campaign);
  const time_s = Float64Array.from(sorted, (one) => one.time_s);
  return {
    campaigns,
    time_s,
    chainage_m,
    spacing_m: first.spacing_m,
    slices,
    ratio,
    corrected,
    unknown,
  };
}

/** 0 where the first campaign has an estimate. */
function firstColumn(
  ground: SharedGround,
  slice: RawSeries["slices"][number],
  chainage_m: Float64Array,
): Float64Array {
  const own = ground.firstKnown[indexOf(ground, slice)]!;
  return chainage_m.map((x) => (own[at(ground, x)] === 1 ? 0 : Number.NaN));
}

const at = ({ chainage_m, spacing_m }: SharedGround, x: number) => {
  const i = Math.round((x - chainage_m[0]!) / spacing_m);
  return i < chainage_m.length ? i : -1;
};

const indexOf = ({ slices }: SharedGround, slice: DepthRange) =>
  slices.findIndex(
    (one) => Math.abs(one.top_m - slice.top_m) < 1e-6 && Math.abs(one.base_m - slice.base_m) < 1e-6,
  );

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
  const level = raw.ratio.map((columns) =>
    columns.map((column) => {
      if (options.level === "none") return 0;
      return median(column.map((value, i) => (moving[i] === 1 ? Number.NaN : value))) || 0;
    }),
  );
  const log10Ratio = raw.ratio.map((columns, c) =>
    columns.map((column, k) => {
      const levelled = column.map((value) => value - level[c]![k]!);
      return smoothed(levelled, ones, window).value;
    }),
  );
  const { campaigns, time_s, chainage_m, slices, unknown } = raw;
  return { campaigns, time_s, chainage_m, slices, log10Ratio, level, unknown };
}
