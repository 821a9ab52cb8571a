import { median } from "../../numerics/robust.js";
import { backgroundOf } from "../noise/background.js";
import { type NoiseModel, noiseOf } from "../noise/channel-noise.js";
import { groundSpread } from "../noise/ground-spread.js";
import { type Parts, partsOfReading } from "../reading-parts.js";
import { FITS, type Matched, matched } from "./matched.js";
import type { Track } from "./tracks.js";

/** How far each reading of a track is from anything that layered ground could do there. */
export interface TrackScore {
  readonly track: Track;
  /** For each channel, its noise. */
  readonly noise: readonly NoiseModel[];
  readonly complete: boolean;
  /** n scores: standard normal on undisturbed ground; NaN without enough readings. */
  readonly score: Float64Array;
  /** n shares of the local excursion that no ground explains, 0 to 1. */
  readonly share: Float64Array;
  /** For each channel, n local excursions in standard errors, single or averaged, as scored. */
  readonly excursion: readonly Float64Array[];
  /** The same, without what a change of the ground explains. */
  readonly unlike: readonly Float64Array[];
  /** n readings' parts unlike ground, each of c channels, before averaging. */
  readonly parts: readonly Parts[];
  /** How well a small piece of metal at each reading explains its surroundings. */
  readonly metal: Matched;
}

export interface ScoreOptions {
  readonly window_m: number;
}

/**
 * Each reading is set against the levels before and after it, the mixture of the two taken that suits
 * it best, so that an edge of the ground is no excursion. What remains, in units of the noise, is
 * weighed against the noise and the spread of ordinary ground together: e' (I + G)⁻¹ e is small where
 * ground explains the excursion. For single readings, and for their averages over a separation of the
 * coils, it is scaled to the middle of undisturbed ground and becomes a standard normal score by the
 * cube root (Wilson & Hilferty 1931); the higher of the two counts.
 */
export function scoreTrack(track: Track, { window_m }: ScoreOptions): TrackScore {
  const noise = track.values.map(noiseOf);
  const spread = groundSpread(track);
  const backgrounds = track.values.map((column) =>
    backgroundOf(track.chainage_m, column, window_m),
  );
  const prepared = { track, noise, spread, backgrounds };
  const parts = Array.from(track.rows, (_, i) => partsOfReading(prepared, i));
  const free = median(parts.map(({ freedom }) => freedom));
  const complete = free >= Math.max(1, track.channels.length / 4);
  const half_m = 0.75 * Math.max(...track.channels.map((channel) => channel.separation_m));
  const alone = averaged(track, parts, 0);
  const metal = matched(track, parts);
  const { score, ...others } = stronger(alone, averaged(track, parts, half_m));
  const highest = score.map((one, i) =>
    metal.fit[i]! >= FITS && metal.score[i]! > one ? metal.score[i]! : one,
  );
  return { track, noise, complete, parts, metal, score: highest, ...others };
}

interface Scored {
  readonly score: Float64Array;
  readonly share: Float64Array;
  readonly excursion: readonly Float64Array[];
  readonly unlike: readonly Float64Array[];
}

/** The parts averaged over the readings within `half_m` on each side. */
function averaged(track: Track, parts: readonly Parts[], half_m: number): Scored {
  const n = parts.length;
  const columns = () => track.channels.map(() => new Float64Array(n).fill(Number.NaN));
  const [excursion, unlike] = [columns(), columns()];
  const [squares, share] = [new Float64Array(n), new Float64Array(n)];
  let [first, last] = [0, 0];
  for (let i = 0; i < n; i++) {
    while (track.chainage_m[first]! < track.chainage_m[i]! - half_m) first++;
    while (last < n && track.chainage_m[last]! <= track.chainage_m[i]! + half_m) last++;
    const near = parts.slice(first, last);
    let [whole, rest] = [0, 0];
    for (let c = 0; c < excursion.length; c++) {
      excursion[c]![i] = meanInErrors(near, c, "excursion");
      unlike[c]![i] = meanInErrors(near, c, "unlike");
      whole += excursion[c]![i]! ** 2 || 0;
      rest += meanInErrors(near, c, "white") ** 2 || 0;
    }
    squares[i] = rest;
    share[i] = whole > 0 ? Math.min(1, rest / whole) : 0;
  }
  const freedom = Float64Array.from(parts, (one) => one.freedom);
  return { score: normalScore(squares, freedom), share, excursion, unlike };
}

/** For each reading the one of two that scores more. */
function stronger(one: Scored, other: Scored): Scored {
  const take = Array.from(one.score, (score, i) => !(other.score[i]! > score));
  const pick = (a: Float64Array, b: Float64Array) => a.map((value, i) => (take[i] ? value : b[i]!));
  return {
    score: pick(one.score, other.score),
    share: pick(one.share, other.share),
    excursion: one.excursion.map((column, c) => pick(column, other.excursion[c]!)),
    unlike: one.unlike.map((column, c) => pick(column, other.unlike[c]!)),
  };
}

/** Mean of neighbours over its standard error; NaN where none has the channel. */
function meanInErrors(
  near: readonly Parts[],
  c: number,
  part: "excursion" | "unlike" | "white",
): number {
  let [sum, count] = [0, 0];
  for (const one of near) {
    if (one.present[c] === 0) continue;
    sum += one[part][c]!;
    count++;
  }
  return count > 0 ? sum / Math.sqrt(count) : Number.NaN;
}

function normalScore(squares: Float64Array, freedom: Float64Array): Float64Array {
  const ratio = squares.map((square, i) => (freedom[i]! > 0 ? square / freedom[i]! : Number.NaN));
  const relative = ratio.map((value, i) => value / (1 - 2 / (9 * freedom[i]!)) ** 3);
  const scale = median(relative);
  const divisor = scale > 0 ? scale : 1;
  return ratio.map((value, i) => {
    const spread = 2 / (9 * freedom[i]!);
    return (Math.cbrt(value / divisor) - (1 - spread)) / Math.sqrt(spread);
  });
}
