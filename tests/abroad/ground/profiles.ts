import type { Chance } from "../random.js";

/** A quantity along the bank, by chainage. */
export type Profile = (chainage_m: number) => number;

const STEP_M = 0.25;
/** Rows go on beyond both ends, for positions that are off. */
const BEYOND_M = 60;

export const constant =
  (value: number): Profile =>
  () =>
    value;

/** Sampled every quarter metre, linear between, level beyond its ends. */
function sampled(length_m: number, next: (i: number) => number): Profile {
  const n = Math.ceil((length_m + 2 * BEYOND_M) / STEP_M) + 1;
  const row = Float64Array.from({ length: n }, (_, i) => next(i));
  return (chainage_m) => {
    const place = Math.min(n - 1.001, Math.max(0, (chainage_m + BEYOND_M) / STEP_M));
    const i = Math.floor(place);
    return row[i]! + (place - i) * (row[i + 1]! - row[i]!);
  };
}

export interface TextureSketch {
  readonly length_m: number;
  /** Distance over which the correlation falls to 1/e, m. */
  readonly correlation_m: number;
}

/** Stationary scatter of unit variance. */
export function texture(random: Chance, { length_m, correlation_m }: TextureSketch): Profile {
  const keep = Math.exp(-STEP_M / correlation_m);
  let value = random.normal();
  return sampled(length_m, () => {
    value = keep * value + Math.sqrt(1 - keep * keep) * random.normal();
    return value;
  });
}

/** A random walk that strays by one after a hundred metres, standard deviation, from 0. */
export function randomWalk(random: Chance, length_m: number): Profile {
  let value = 0;
  return sampled(length_m, () => {
    value += Math.sqrt(STEP_M / 100) * random.normal();
    return value;
  });
}

/** Boundaries that leave pieces of 60 to 160 m, none nearer than 50 m to an end. */
export function cuts(random: Chance, length_m: number): number[] {
  const found: number[] = [];
  for (let at = random.between(60, 160); at < length_m - 50; at += random.between(60, 160)) {
    found.push(at);
  }
  return found;
}

/** One level a piece, going straight from one to the next about each boundary. */
export function stepped(
  boundaries_m: readonly number[],
  levels: readonly number[],
  transition_m: number,
): Profile {
  return (chainage_m) =>
    boundaries_m.reduce((level, boundary, b) => {
      const over = Math.min(1, Math.max(0, (chainage_m - boundary) / transition_m + 0.5));
      return level + over * (levels[b + 1]! - levels[b]!);
    }, levels[0]!);
}

export const sum =
  (...parts: readonly Profile[]): Profile =>
  (chainage_m) =>
    parts.reduce((total, part) => total + part(chainage_m), 0);

export const scaled =
  (factor: number, part: Profile): Profile =>
  (chainage_m) =>
    factor * part(chainage_m);
