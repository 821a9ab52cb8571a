import { cumulativeResponse } from "../../earth/half-space.js";
import { stationForward } from "../../earth/station-forward.js";
import { median } from "../../numerics/statistics/robust.js";
import type { Channel } from "../../survey/survey.js";
import type { LineReadings } from "../data/line-readings.js";
import { scaled } from "../data/reading-scale.js";
import type { LayeredEarth } from "./earth-ensemble.js";

/** How far beyond the line's readings a quick response may lie, on the reading scale. */
const BEYOND = 0.7;
/** ln conductivities that half-spaces are tabled at. */
const TABLE = Float64Array.from({ length: 120 }, (_, i) => Math.log(1e-4) + i * 0.09);

interface Range {
  readonly channel: Channel;
  readonly low: number;
  readonly high: number;
  readonly table: Float64Array;
  /** Share of the response below no depth at all. */
  readonly whole: number;
}

/**
 * Whether an earth may explain any station: its responses, by the half-space of the conductivity
 * that each pair sees at low induction numbers, lie within the line's range or not far from it.
 */
export function reachable(readings: LineReadings): (earth: LayeredEarth) => boolean {
  const height_m = median(readings.height_m);
  const ranges = judged(readings).map((d) => rangeOf(readings, d, height_m));
  return ({ lnConductivity, thickness_m }) => {
    const conductivity = lnConductivity.map(Math.exp);
    return ranges.every((range) => {
      const { separation_m, orientation } = range.channel;
      let seen = 0;
      let z = height_m;
      let above = range.whole;
      for (let j = 0; j < conductivity.length; j++) {
        z += thickness_m[j] ?? Number.POSITIVE_INFINITY;
        const below = Number.isFinite(z) ? cumulativeResponse(orientation, z / separation_m) : 0;
        seen += (above - below) * conductivity[j]!;
        above = below;
      }
      const value = tabled(range.table, Math.log(seen / range.whole));
      return value > range.low - BEYOND && value < range.high + BEYOND;
    });
  };
}

/** For each pair of coils its lowest frequency that is well above the noise, or else its highest. */
function judged({ channels, value, width }: LineReadings): readonly number[] {
  const size = (d: number) => median(value.filter((_, at) => at % width === d).map(Math.abs));
  const clear = channels.map((_, d) => size(d) > CLEAR);
  const better = (a: number, b: number) => {
    if (clear[a] !== clear[b]) return clear[a];
    const higher = channels[a]!.frequency_Hz > channels[b]!.frequency_Hz;
    return clear[a] ? !higher : higher;
  };
  const best = new Map<string, number>();
  for (const [d, channel] of channels.entries()) {
    if (channel.kind === "inphase") continue;
    const key = `${channel.orientation} ${channel.separation_m}`;
    const known = best.get(key);
    if (known === undefined || better(d, known)) best.set(key, d);
  }
  return [...best.values()];
}

/** A typical reading, on the scale, from which on noise is a share of it. */
const CLEAR = 1.4;

function rangeOf(
  { bank, channels, value, knee_ppm, width }: LineReadings,
  d: number,
  height_m: number,
): Range {
  const channel = channels[d]!;
  const own = value.filter((one, at) => at % width === d && !Number.isNaN(one));
  const forward = stationForward([channel], Float64Array.of(0), height_m);
  const response = new Float64Array(1);
  const parts = bank?.[d];
  const shape = parts === undefined ? 1 : parts.bank(0) / parts.level(0);
  const table = TABLE.map((level) => {
    forward.evaluate(Float64Array.of(level), response, new Float64Array(1));
    return scaled(shape * response[0]!, knee_ppm[d]!);
  });
  const whole = cumulativeResponse(channel.orientation, height_m / channel.separation_m);
  const low = own.reduce((least, one) => Math.min(least, one), Number.POSITIVE_INFINITY);
  const high = own.reduce((most, one) => Math.max(most, one), Number.NEGATIVE_INFINITY);
  return { channel, low, high, table, whole };
}

function tabled(table: Float64Array, level: number): number {
  const place = (level - TABLE[0]!) / (TABLE[1]! - TABLE[0]!);
  const i = Math.min(table.length - 2, Math.max(0, Math.floor(place)));
  return table[i]! + Math.min(1, Math.max(0, place - i)) * (table[i + 1]! - table[i]!);
}
