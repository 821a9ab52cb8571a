import type { Directions } from "./directions.js";
import type { EnsembleReadings } from "./ensemble-readings.js";
import { type MemberScreen, memberScreen } from "./member-screen.js";

/** A screen and the noise that it was made for. */
export interface StationScreen {
  readonly screen: MemberScreen;
  /** c deviations. */
  readonly sd: Float64Array;
}

/** Stations whose noise is within this factor of each other share a screen. */
const STEP = 1.5;
const MOST_STEPS = 5;

/**
 * The screen of each station: stations with the same channels present and noise alike share one,
 * made for the root mean square of their noise. `noise`: c deviations that hold everywhere.
 */
export function lineScreens(
  directions: Directions,
  readings: EnsembleReadings,
  noise: Float64Array,
): (station: number) => StationScreen {
  const groups = new Map<string, number[]>();
  const keys = Array.from({ length: readings.n }, (_, i) => keyOf(readings, noise, i));
  for (const [i, key] of keys.entries()) {
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [i]);
    else group.push(i);
  }
  const made = new Map<string, StationScreen>();
  return (station) => {
    const key = keys[station]!;
    let screen = made.get(key);
    if (screen === undefined) {
      const sd = commonNoise(readings, noise, groups.get(key)!);
      const present = [...sd.keys()].filter((d) => !Number.isNaN(sd[d]!));
      screen = { screen: memberScreen(directions, sd, present), sd };
      made.set(key, screen);
    }
    return screen;
  };
}

function keyOf({ value, known }: EnsembleReadings, noise: Float64Array, i: number): string {
  const c = noise.length;
  let present = "";
  let ratio = 1;
  for (let d = 0; d < c; d++) {
    const there = !Number.isNaN(value[i * c + d]!);
    present += there ? "1" : "0";
    if (there) ratio = Math.max(ratio, Math.hypot(noise[d]!, known[i * c + d]!) / noise[d]!);
  }
  const step = Math.min(MOST_STEPS, Math.round(Math.log(ratio) / Math.log(STEP)));
  return `${present} ${step}`;
}

/** Root mean square over stations; NaN for a channel that they do not have. */
function commonNoise(
  { value, known }: EnsembleReadings,
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
