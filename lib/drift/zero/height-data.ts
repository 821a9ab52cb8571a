import { median } from "../../numerics/statistics/robust.js";
import type { Channel } from "../../survey/survey.js";
import type { HeightReading } from "./height-readings.js";
import type { ZeroLevelOptions } from "./options.js";

/** One channel's mean reading at one height. */
export interface HeightDatum {
  readonly channel: Channel;
  readonly height_m: number;
  readonly value: number;
  /** Standard deviation of the value. */
  readonly sd: number;
}

/** The readings of each channel that was read at two heights at least, repeats averaged. */
export function heightData(
  readings: readonly HeightReading[],
  channels: readonly Channel[],
  { floor, share_pct }: ZeroLevelOptions,
): readonly HeightDatum[] {
  return channels.flatMap((channel) => {
    const own = readings.flatMap(({ height_m, values }) => {
      const value = values[channel.field] ?? Number.NaN;
      return Number.isFinite(value) ? [{ height_m, value }] : [];
    });
    const heights = [...new Set(own.map(({ height_m }) => height_m))];
    if (heights.length < 2) return [];
    // One size for all heights, as an offset may take a value through 0.
    const size = median(own.map(({ value }) => Math.abs(value)));
    const sd = Math.hypot(floor, (share_pct / 100) * size);
    return heights.map((height_m): HeightDatum => {
      const there = own.filter((one) => one.height_m === height_m);
      const value = there.reduce((sum, one) => sum + one.value, 0) / there.length;
      return { channel, height_m, value, sd: sd / Math.sqrt(there.length) };
    });
  });
}
