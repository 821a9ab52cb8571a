import { median } from "../numerics/robust.js";
import { type Background, backgroundOf } from "./background.js";
import { type NoiseModel, noiseAt, noiseOf } from "./channel-noise.js";
import { type GroundModes, groundModes, takeOff } from "./ground-modes.js";
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
  /** For each channel, n local excursions in standard errors, averaged over the coils' length. */
  readonly excursion: readonly Float64Array[];
  /** The same, without what a change of the ground explains. */
  readonly unlike: readonly Float64Array[];
}

export interface ScoreOptions {
  readonly window_m: number;
}

/**
 * Each reading is set against the levels before and after it, the mixture of the two taken that suits
 * it best, so that an edge of the ground is no excursion. What remains, in units of the noise, loses
 * its part along the ground's modes. The rest is averaged over a separation of the coils, and the sum
 * of its squares over the channels, scaled to a middle of undisturbed ground, becomes a standard
 * normal score by the cube root (Wilson & Hilferty 1931).
 */
export function scoreTrack(track: Track, { window_m }: ScoreOptions): TrackScore {
  const noise = track.values.map(noiseOf);
  const typical = track.values.map((column, c) => noiseFloored(noise[c]!, middle(column)));
  const ground = groundModes(track, typical);
  const backgrounds = track.values.map((column) =>
    backgroundOf(track.chainage_m, column, window_m),
  );
  const parts = Array.from(track.rows, (_, i) =>
    partsOfReading({ track, noise, ground, backgrounds }, i),
  );
  return { track, noise, complete: ground.complete, ...averaged(track, parts) };
}

interface Prepared {
  readonly track: Track;
  readonly noise: readonly NoiseModel[];
  readonly ground: GroundModes;
  readonly backgrounds: readonly Background[];
}

/** One reading's excursion and its part unlike ground, in noises; 0 for missing channels. */
interface Parts {
  readonly excursion: Float64Array;
  readonly unlike: Float64Array;
  readonly present: Uint8Array;
  readonly freedom: number;
}

function partsOfReading(prepared: Prepared, i: number): Parts {
  const { track, noise, ground, backgrounds } = prepared;
  const count = track.channels.length;
  const present = new Uint8Array(count);
  const [excursion, contrast, sd] = [0, 1, 2].map(() => new Float64Array(count)) as Triple;
  for (let c = 0; c < count; c++) {
    const value = track.values[c]![i]!;
    const level = levelsAt(backgrounds[c]!, i);
    if (level === null || Number.isNaN(value)) continue;
    present[c] = 1;
    sd[c] = noiseFloored(noise[c]!, (level.before + level.after) / 2);
    excursion[c] = (value - level.after) / sd[c]!;
    contrast[c] = (level.before - level.after) / sd[c]!;
  }
  const units = unitModes(ground.modes, sd, present);
  const unlike = without(excursion, units);
  const mixed = bestMixture(unlike, without(contrast, units));
  for (let c = 0; c < count; c++) excursion[c]! -= mixed.share * contrast[c]!;
  const freedom = present.reduce((sum, one) => sum + one, 0) - units.length;
  return { excursion, unlike: mixed.rest, present, freedom };
}

type Triple = [Float64Array, Float64Array, Float64Array];

/** Levels on both sides; at an end of the line, the one side there is. */
function levelsAt({ before, after }: Background, i: number) {
  const [one, two] = [before[i]!, after[i]!];
  if (Number.isNaN(one) && Number.isNaN(two)) return null;
  return { before: Number.isNaN(one) ? two : one, after: Number.isNaN(two) ? one : two };
}

function unitModes(
  modes: readonly Float64Array[],
  sd: Float64Array,
  present: Uint8Array,
): readonly Float64Array[] {
  const units: Float64Array[] = [];
  for (const mode of modes) {
    const vector = mode.map((value, c) => (present[c] ? value / sd[c]! : 0));
    const whole = Math.hypot(...vector);
    for (const unit of units) takeOff(vector, unit);
    const size = Math.hypot(...vector);
    if (size > 1e-6 * whole) units.push(vector.map((value) => value / size));
  }
  return units;
}

function without(vector: Float64Array, units: readonly Float64Array[]): Float64Array {
  const rest = Float64Array.from(vector);
  for (const unit of units) takeOff(rest, unit);
  return rest;
}

/** The share of `contrast`, 0 to 1, that leaves least of `unlike`. */
function bestMixture(unlike: Float64Array, contrast: Float64Array) {
  const [along, square] = [dot(unlike, contrast), dot(contrast, contrast)];
  const share = square > 0 ? Math.min(1, Math.max(0, along / square)) : 0;
  return { share, rest: unlike.map((value, c) => value - share * contrast[c]!) };
}

function averaged(track: Track, parts: readonly Parts[]) {
  const n = parts.length;
  const half_m = 0.75 * Math.max(...track.channels.map((channel) => channel.separation_m));
  const columns = () => track.channels.map(() => new Float64Array(n).fill(Number.NaN));
  const [excursion, unlike] = [columns(), columns()];
  const [squares, share, freedom] = [0, 1, 2].map(() => new Float64Array(n)) as Triple;
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
      rest += unlike[c]![i]! ** 2 || 0;
    }
    squares[i] = rest;
    share[i] = whole > 0 ? Math.min(1, rest / whole) : 0;
    freedom[i] = parts[i]!.freedom;
  }
  return { score: normalScore(squares, freedom), share, excursion, unlike };
}

/** Mean of neighbours over its standard error; NaN where none has the channel. */
function meanInErrors(near: readonly Parts[], c: number, part: "excursion" | "unlike"): number {
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

/** Noise that never reaches zero, so that exact data can be judged too. */
export function noiseFloored(model: NoiseModel, value: number): number {
  return Math.max(noiseAt(model, value), 1e-6 * Math.abs(value), 1e-9);
}

function middle(column: Float64Array): number {
  const value = median(column);
  return Number.isNaN(value) ? 0 : value;
}

function dot(a: Float64Array, b: Float64Array): number {
  return a.reduce((sum, value, c) => sum + value * b[c]!, 0);
}
