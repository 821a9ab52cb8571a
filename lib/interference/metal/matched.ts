import { madScale } from "../../numerics/robust.js";
import type { Parts } from "../reading-parts.js";
import { type Group, groupsOf, type Place, placesFor } from "./metal-places.js";
import { metalFootprint, metalSpectrum } from "./metal-shapes.js";
import type { Track } from "./tracks.js";

/** For each reading, how well a piece of metal there explains what its surroundings show. */
export interface Matched {
  /** n amplitudes of the best fitting metal over their standard errors, not negative. */
  readonly score: Float64Array;
  /** n shares of the squares nearby that this metal explains, 0 to 1. */
  readonly fit: Float64Array;
}

/**
 * Share of the squares nearby from which on metal explains what is seen: 95 of 100 peaks of metal lie
 * above 0.42, 95 of 100 peaks in bursts of noise below 0.35 (160 seeded surveys kept for tuning).
 */
export const FITS = 0.35;
/** Decay times tried, s; `Infinity` answers in phase only. */
const DECAYS_s = [1e-6, 3e-6, 6e-6, 1.2e-5, 2.5e-5, 5e-5, 1e-4, 3e-4, Number.POSITIVE_INFINITY];
/** The footprint counts as far as this, in separations. */
const REACH = 1.5;
/**
 * The matched filter: at every reading the whitened parts nearby are set against footprints of metal
 * at some depths and distances aside, with the spectra of some decay times. An amplitude over its
 * standard error is standard normal on undisturbed ground; where the ground's grain makes a filter
 * louder, it is scaled to the filter's own robust spread along the track. The best filter counts.
 */
export function matched(track: Track, parts: readonly Parts[]): Matched {
  const n = parts.length;
  const groups = groupsOf(track.channels);
  const reach_m = REACH * Math.max(...track.channels.map(({ separation_m }) => separation_m));
  const near = windows(track.chainage_m, reach_m);
  const score = new Float64Array(n).fill(Number.NaN);
  const fit = new Float64Array(n).fill(Number.NaN);
  const squaresNear = sumsWithin(
    near,
    parts.map(({ white }) => dot(white, white)),
  );
  const seen = DECAYS_s.map((decay_s) =>
    parts.map((part) => projections(track, part, { groups, decay_s })),
  );
  for (const place of placesFor(track)) {
    const feet = footprints(track, { near, groups, place });
    for (const one of seen) keepBetter({ score, fit }, filtered(one, feet), squaresNear);
  }
  return { score, fit };
}

/** Scales a filter to its own robust spread along the track, and keeps it where it says more. */
function keepBetter(
  { score, fit }: Matched,
  amplitude: Float64Array,
  squaresNear: Float64Array,
): void {
  const scale = Math.max(1, madScale(amplitude));
  for (let i = 0; i < amplitude.length; i++) {
    const one = Math.abs(amplitude[i]!) / scale;
    if (!(one >= 0) || one <= score[i]!) continue;
    score[i] = one;
    fit[i] = squaresNear[i]! > 0 ? Math.min(1, amplitude[i]! ** 2 / squaresNear[i]!) : 0;
  }
}

interface Windows {
  readonly first: Int32Array;
  readonly last: Int32Array;
}

function windows(chainage_m: Float64Array, reach_m: number): Windows {
  const n = chainage_m.length;
  const [first, last] = [new Int32Array(n), new Int32Array(n)];
  let [from, to] = [0, 0];
  for (let i = 0; i < n; i++) {
    while (chainage_m[from]! < chainage_m[i]! - reach_m) from++;
    while (to + 1 < n && chainage_m[to + 1]! <= chainage_m[i]! + reach_m) to++;
    first[i] = from;
    last[i] = Math.max(to, i);
  }
  return { first, last };
}

/** What one reading says of a spectrum, group by group, in whitened units. */
interface Projection {
  /** g products of the reading with each group's part of the spectrum. */
  readonly along: Float64Array;
  /** g × g products of the parts with each other. */
  readonly square: Float64Array;
}

function projections(
  { channels }: Track,
  { white, sd, present, whiten }: Parts,
  { groups, decay_s }: { readonly groups: readonly Group[]; readonly decay_s: number },
): Projection {
  const shapes = groups.map(({ members }) => {
    const effect = new Float64Array(channels.length);
    for (const c of members) {
      if (present[c] === 1) effect[c] = metalSpectrum(channels[c]!, decay_s) / sd[c]!;
    }
    return whiten(effect);
  });
  const along = Float64Array.from(shapes, (shape) => dot(shape, white));
  const square = Float64Array.from(shapes.flatMap((one) => shapes.map((other) => dot(one, other))));
  return { along, square };
}

interface Footprints {
  readonly near: Windows;
  /** n lists: for each reading nearby, the footprint in each group of coils. */
  readonly foot: readonly Float64Array[];
}

function footprints(
  { chainage_m }: Track,
  at: { readonly near: Windows; readonly groups: readonly Group[]; readonly place: Place },
): Footprints {
  const { near, groups, place } = at;
  const foot = Array.from(chainage_m, (x, i) => {
    const others = Array.from(chainage_m.subarray(near.first[i]!, near.last[i]! + 1));
    return Float64Array.from(
      others.flatMap((y) =>
        groups.map(({ coils }) =>
          metalFootprint(coils, { ...place, along_m: place.facing * (x - y) }),
        ),
      ),
    );
  });
  return { near, foot };
}

/** For each reading the amplitude of the footprint there, over its standard error. */
function filtered(seen: readonly Projection[], { near, foot }: Footprints): Float64Array {
  const count = seen[0]?.along.length ?? 0;
  return Float64Array.from(seen, (_, i) => {
    let [along, square] = [0, 0];
    for (let j = near.first[i]!; j <= near.last[i]!; j++) {
      const at = (j - near.first[i]!) * count;
      for (let g = 0; g < count; g++) {
        along += foot[i]![at + g]! * seen[j]!.along[g]!;
        for (let h = 0; h < count; h++) {
          square += foot[i]![at + g]! * foot[i]![at + h]! * seen[j]!.square[g * count + h]!;
        }
      }
    }
    return square > 0 ? along / Math.sqrt(square) : Number.NaN;
  });
}

function sumsWithin({ first, last }: Windows, values: readonly number[]): Float64Array {
  return Float64Array.from(values, (_, i) =>
    values.slice(first[i]!, last[i]! + 1).reduce((sum, one) => sum + one, 0),
  );
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
