import { median } from "../../numerics/robust.js";
import { type Distance, distanceFromGround, groundsFor } from "../noise/nearest-ground.js";
import type { PlaceLevels } from "../noise/place-levels.js";

/** A stretch whose level as a whole is nothing that layered ground could give. */
export interface ShiftedStretch {
  readonly from_m: number;
  readonly to_m: number;
  /** Mean score of its places, in standard deviations of places elsewhere. */
  readonly score: number;
  /** Fields of the channels that show it, on average over its places. */
  readonly channels: readonly string[];
}

export interface ParallelFindings {
  readonly stretches: readonly ShiftedStretch[];
  /** False where the channels are too few to tell an object along the line from ground. */
  readonly tellable: boolean;
}

/** True where channels are left to judge by once ground has explained what it can. */
export function canTellAlong(places: PlaceLevels): boolean {
  const at = places.level.findIndex((level) => !level.every(Number.isNaN));
  if (at < 0) return false;
  const grounds = groundsFor(places.channels, places.height_m);
  const distance = distanceFromGround(grounds, places.level[at]!, places.error[at]!);
  return (distance?.freedom ?? 0) >= LEAST_FREEDOM;
}

/** Rounds of taking off what the places have in common: zero levels, and drift that is left. */
const ROUNDS = 3;
/** Score of every place of a stretch, and of the stretch on average. */
const LEAST = { place: 2.5, mean: 4 };
/** Shorter shifts are the business of the detection of single objects, m. */
const SHORTEST_M = 30;
/** A longer part of the line than this cannot be told from the line's own usual, as a share. */
const LONGEST_SHARE = 0.4;
/** Channels left over after ground, below which proportions say nothing. */
const LEAST_FREEDOM = 3;
/** An average excursion shows in a channel from this many errors on. */
const SHOWS = 2;

/**
 * Stretches of 30 m or more that something along the line shifts as a whole, such as a guard rail or
 * a cable: their levels, all channels of all walks together, in-phase and both orientations among
 * them, lie further from every layered ground than the levels elsewhere do.
 */
export function shiftedStretches(places: PlaceLevels): ParallelFindings {
  const grounds = groundsFor(places.channels, places.height_m);
  const level = places.level.map((one) => Float64Array.from(one));
  let distances: readonly (Distance | null)[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    distances = level.map((one, k) => distanceFromGround(grounds, one, places.error[k]!));
    if (round + 1 < ROUNDS) takeOffCommon(places, distances, level);
  }
  const freedom = median(distances.map((one) => one?.freedom ?? Number.NaN));
  if (!(freedom >= LEAST_FREEDOM)) return { stretches: [], tellable: false };
  const score = scoresOf(distances);
  return { stretches: stretchesOf(places, score, distances), tellable: true };
}

/** Takes off each channel's line along the places through what it shows beyond ground. */
function takeOffCommon(
  { error, channels }: PlaceLevels,
  distances: readonly (Distance | null)[],
  level: readonly Float64Array[],
): void {
  for (let c = 0; c < channels.length; c++) {
    const at = distances.flatMap((one, k) =>
      one === null || Number.isNaN(error[k]![c]!) ? [] : [k],
    );
    const beyond = at.map((k) => distances[k]!.unlike[c]! * error[k]![c]!);
    const line = middleLine(at, beyond);
    for (const [k, one] of level.entries()) one[c]! -= line(k);
  }
}

/** Slopes between a place and those at least this share of the line away. */
const FAR = 1 / 3;

/** A line through the middle of values: zero levels, and drift that is left (Theil 1950, Sen 1968). */
function middleLine(at: readonly number[], values: readonly number[]): (k: number) => number {
  if (at.length === 0) return () => 0;
  const slopes: number[] = [];
  const away = Math.max(1, Math.floor(FAR * at.length));
  const step = Math.max(1, Math.floor(at.length / 60));
  for (let i = 0; i + away < at.length; i += step) {
    for (let j = i + away; j < at.length; j += step) {
      slopes.push((values[j]! - values[i]!) / (at[j]! - at[i]!));
    }
  }
  const slope = median(slopes) || 0;
  const level = median(values.map((value, i) => value - slope * at[i]!));
  return (k) => level + slope * k;
}

function scoresOf(distances: readonly (Distance | null)[]): Float64Array {
  const ratio = distances.map((one) => (one === null ? Number.NaN : one.square / one.freedom));
  const scale = median(ratio.filter((one) => !Number.isNaN(one)));
  return Float64Array.from(distances, (one, k) => {
    if (one === null) return Number.NaN;
    // Cube root of a mean square (Wilson & Hilferty 1931); never sharper than the errors say.
    const spread = 2 / (9 * one.freedom);
    return (Math.cbrt(ratio[k]! / Math.max(1, scale)) - (1 - spread)) / Math.sqrt(spread);
  });
}

function stretchesOf(
  places: PlaceLevels,
  score: Float64Array,
  distances: readonly (Distance | null)[],
): readonly ShiftedStretch[] {
  const found: ShiftedStretch[] = [];
  const { chainage_m, length_m } = places;
  const counts = (k: number) => score[k]! >= LEAST.place;
  for (let k = 0; k < score.length; k++) {
    if (!counts(k)) continue;
    const first = k;
    // A single place without readings, or a weak one, does not end a stretch.
    while (counts(k + 1) || counts(k + 2)) k++;
    const own = Array.from({ length: k - first + 1 }, (_, i) => first + i);
    const known = own.filter((i) => !Number.isNaN(score[i]!));
    const mean = known.reduce((sum, i) => sum + score[i]!, 0) / known.length;
    const long_m = own.length * length_m;
    const most_m = LONGEST_SHARE * score.length * length_m;
    if (long_m < SHORTEST_M || long_m > most_m || !(mean >= LEAST.mean)) continue;
    if (!startsAndEnds(distances, first, k)) continue;
    found.push({
      from_m: chainage_m[first]! - length_m / 2,
      to_m: chainage_m[k]! + length_m / 2,
      score: mean,
      channels: channelsOf(
        places,
        known.map((i) => distances[i]!),
      ),
    });
  }
  return found;
}

/** Least part of the shift that comes or goes within two places of its ends. */
const SHARP = 0.5;

/** Drift that is left rises and falls slowly; an object starts and ends. An end of the line counts. */
function startsAndEnds(
  distances: readonly (Distance | null)[],
  first: number,
  last: number,
): boolean {
  const inside = meanUnlike(distances, first, last);
  if (inside === null) return false;
  const square = dot(inside, inside);
  const rises = (within: number, without: number) => {
    const [near, far] = [within, without].map((k) => meanUnlike(distances, k, k + 1));
    if (!near || !far) return true;
    return dot(near, inside) - dot(far, inside) >= SHARP * square;
  };
  return rises(first, first - 3) && rises(last - 1, last + 2);
}

/** Mean part unlike ground of the places from `first` to `last`; null without any. */
function meanUnlike(
  distances: readonly (Distance | null)[],
  first: number,
  last: number,
): Float64Array | null {
  const own = distances.slice(Math.max(0, first), Math.max(0, last + 1)).filter((d) => d !== null);
  if (own.length === 0) return null;
  return own[0]!.unlike.map((_, c) => {
    return own.reduce((sum, { unlike }) => sum + unlike[c]!, 0) / own.length;
  });
}

function dot(a: Float64Array, b: Float64Array): number {
  return a.reduce((sum, value, c) => sum + value * b[c]!, 0);
}

function channelsOf({ channels }: PlaceLevels, distances: readonly Distance[]): readonly string[] {
  return channels
    .filter((_, c) => {
      const mean = distances.reduce((sum, one) => sum + one.unlike[c]!, 0) / distances.length;
      return Math.abs(mean) * Math.sqrt(distances.length) >= SHOWS;
    })
    .map(({ field }) => field);
}
