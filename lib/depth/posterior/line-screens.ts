import type { LineReadings } from "../data/line-readings.js";
import type { Directions } from "./directions.js";
import { type MemberScreen, memberScreen } from "./member-screen.js";

/** A screen and the noise that it was made for. */
export interface StationScreen {
  readonly screen: MemberScreen;
  /** Deviations by channel and tie; NaN where stations have none. */
  readonly sd: Float64Array;
}

/** Stations that share a screen, which is made when it is called for. */
export interface ScreenGroup {
  readonly stations: readonly number[];
  readonly screen: () => StationScreen;
}

/** Stations whose noise is within this factor of each other share a screen. */
const STEP = 2;
const MOST_STEPS = 3;

/**
 * The stations that have readings by screen: those with the same channels present and noise alike
 * share one, made for the root mean square of their noise.
 */
export function lineScreens(
  directions: Directions,
  readings: LineReadings,
  { white, kinds }: { readonly white: Float64Array; readonly kinds: Float64Array },
): readonly ScreenGroup[] {
  const noise = white.map((sd, d) => Math.hypot(sd, readings.common[d]!));
  const groups = new Map<string, number[]>();
  const width = noise.length;
  for (let i = 0; i < readings.n; i++) {
    if (readings.value.subarray(i * width, (i + 1) * width).every(Number.isNaN)) continue;
    const key = keyOf(readings, noise, i);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [i]);
    else group.push(i);
  }
  return [...groups.values()].map((stations) => ({
    stations,
    screen: () => {
      const sd = commonNoise(readings, noise, stations);
      const channels = [...sd.keys()].filter((d) => !Number.isNaN(sd[d]!));
      const ends = rangesOf(readings, stations);
      return { screen: memberScreen(directions, sd, { channels, kinds, ...ends }), sd };
    },
  }));
}

function keyOf({ value, known, channels }: LineReadings, noise: Float64Array, i: number): string {
  const c = noise.length;
  let present = "";
  let ratio = 1;
  for (let d = 0; d < c; d++) {
    const there = !Number.isNaN(value[i * c + d]!);
    // Ties are few: each keeps its own deviation.
    if (d >= channels.length) present += there ? ` ${known[i * c + d]}` : "";
    else {
      present += there ? "1" : "0";
      if (there) ratio = Math.max(ratio, Math.hypot(noise[d]!, known[i * c + d]!) / noise[d]!);
    }
  }
  const step = Math.min(MOST_STEPS, Math.round(Math.log(ratio) / Math.log(STEP)));
  return `${present} ${step}`;
}

/** Root mean square over stations; NaN for a channel that they do not have. */
function commonNoise(
  { value, known }: LineReadings,
  noise: Float64Array,
  stations: readonly number[],
): Float64Array {
  const c = noise.length;
  return noise.map((sd, d) => {
    if (Number.isNaN(value[stations[0]! * c + d]!)) return Number.NaN;
    let sum = 0;
    for (const i of stations) sum += known[i * c + d]! ** 2;
    return Math.hypot(sd, Math.sqrt(sum / stations.length));
  });
}

/** The least and the largest reading of each channel over stations. */
function rangesOf({ value, width }: LineReadings, stations: readonly number[]) {
  const low = new Float64Array(width).fill(Number.POSITIVE_INFINITY);
  const high = new Float64Array(width).fill(Number.NEGATIVE_INFINITY);
  for (const i of stations) {
    for (let d = 0; d < width; d++) {
      const one = value[i * width + d]!;
      if (one < low[d]!) low[d] = one;
      if (one > high[d]!) high[d] = one;
    }
  }
  return { low, high };
}
