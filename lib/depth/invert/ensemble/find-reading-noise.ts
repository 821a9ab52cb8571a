import type { Random } from "../../../numerics/random.js";
import type { Directions } from "./directions.js";
import type { EnsembleReadings } from "./ensemble-readings.js";
import { lineScreens } from "./line-screens.js";
import { emptyScreened, screenStation } from "./screen-station.js";
import { StationDrawer } from "./station-draws.js";

/** So many imagined stations hold each channel's noise at the stated one. */
const IMAGINED = 10;
const ROUNDS = 4;
const DRAWS = 24;
/** Bounds, as shares of the stated noise: beyond them that is to be looked at. */
const LEAST = 0.15;
const MOST = 6;
/** Members within so many ln units of the best are drawn from. */
export const REACH = 9;
/** Most members that a station's posterior is held by. */
export const MOST_MEMBERS = 4000;

/**
 * c deviations of what differs from station to station, smaller or larger than stated: rounds of
 * expectation-maximisation, each the mean square of the readings' errors in posterior draws of a
 * sample of stations, the known share of gain and drift left out of it.
 * Source: Dempster, Laird & Rubin 1977.
 */
export function findReadingNoise(
  directions: Directions,
  readings: EnsembleReadings,
  { sample, random }: { readonly sample: readonly number[]; readonly random: Random },
): Float64Array {
  let white: Float64Array = new Float64Array(readings.channels.length).fill(readings.stated);
  for (let round = 0; round < ROUNDS; round++) {
    const squares = meanSquares(directions, readings, { white, sample, random });
    white = white.map((sd, d) => {
      const next = sd * Math.sqrt(squares[d]!);
      return Math.min(MOST * readings.stated, Math.max(LEAST * readings.stated, next));
    });
  }
  return white;
}

/** White noise and gains: what holds at every station. */
export function everywhere({ gain }: EnsembleReadings, white: Float64Array): Float64Array {
  return white.map((sd, d) => Math.hypot(sd, gain[d]!));
}

interface NoiseRound {
  readonly white: Float64Array;
  readonly sample: readonly number[];
  readonly random: Random;
}

/** For each channel the expected square of its white error over `white`². */
function meanSquares(
  directions: Directions,
  readings: EnsembleReadings,
  { white, sample, random }: NoiseRound,
): Float64Array {
  const c = white.length;
  const screens = lineScreens(directions, readings, everywhere(readings, white));
  const drawer = new StationDrawer(directions);
  const found = emptyScreened(MOST_MEMBERS);
  const sum = new Float64Array(c).fill(IMAGINED);
  const count = new Float64Array(c).fill(IMAGINED);
  let hint: Int32Array = new Int32Array(0);
  for (const i of sample) {
    const { screen, sd } = screens(i);
    const reading = readings.value.subarray(i * c, (i + 1) * c);
    screenStation(screen, reading, { reach: REACH, hint, out: found });
    hint = found.member.slice(0, Math.min(8, found.count));
    const each = ({ error }: { readonly error: Float64Array }) => {
      for (let d = 0; d < c; d++) {
        if (Number.isNaN(error[d]!)) continue;
        // The white part's share of the error, and what it leaves open.
        const part = (white[d]! / sd[d]!) ** 2;
        sum[d]! += (part * (error[d]! / sd[d]!) ** 2 + 1 - part) / DRAWS;
        count[d]! += 1 / DRAWS;
      }
    };
    drawer.take(reading, found, { setup: { screen, sd, random }, draws: DRAWS, each });
  }
  return sum.map((value, d) => value / count[d]!);
}
