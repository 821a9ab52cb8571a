import type { Track } from "./metal/tracks.js";
import type { Background } from "./noise/background.js";
import { type NoiseModel, noiseFloored } from "./noise/channel-noise.js";
import { whitener } from "./noise/whiten.js";

export interface Prepared {
  readonly track: Track;
  readonly noise: readonly NoiseModel[];
  readonly spread: Float64Array;
  readonly backgrounds: readonly Background[];
}

/** One reading's excursion, in noises; 0 for missing channels. */
export interface Parts {
  readonly excursion: Float64Array;
  /** The part of it that is put down to anything but ground. */
  readonly unlike: Float64Array;
  /** Whitened: its square is e' (I + G)⁻¹ e. */
  readonly white: Float64Array;
  readonly present: Uint8Array;
  /** Noises of the channels; 0 for missing ones. */
  readonly sd: Float64Array;
  /** Takes a vector in noises to where noise and ground together have unit spread. */
  readonly whiten: (vector: Float64Array) => Float64Array;
  /** Channels left to judge by: the trace of (I + G)⁻¹. */
  readonly freedom: number;
}

/** How one reading departs from its surroundings, and how much of that ground explains. */
export function partsOfReading(prepared: Prepared, i: number): Parts {
  const { track, noise, spread, backgrounds } = prepared;
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
  const { whiten, unwhiten, freedom } = whitener(spread, sd, present);
  const mixed = bestMixture(whiten(excursion), whiten(contrast));
  for (let c = 0; c < count; c++) excursion[c]! -= mixed.share * contrast[c]!;
  return {
    excursion,
    unlike: unwhiten(mixed.rest),
    white: mixed.rest,
    present,
    sd,
    whiten,
    freedom,
  };
}

type Triple = [Float64Array, Float64Array, Float64Array];

/** Levels on both sides; at an end of the line, the one side there is. */
function levelsAt({ before, after }: Background, i: number) {
  const [one, two] = [before[i]!, after[i]!];
  if (Number.isNaN(one) && Number.isNaN(two)) return null;
  return { before: Number.isNaN(one) ? two : one, after: Number.isNaN(two) ? one : two };
}

/** The share of `contrast`, 0 to 1, that leaves least of `unlike`. */
function bestMixture(unlike: Float64Array, contrast: Float64Array) {
  const [along, square] = [dot(unlike, contrast), dot(contrast, contrast)];
  const share = square > 0 ? Math.min(1, Math.max(0, along / square)) : 0;
  return { share, rest: unlike.map((value, c) => value - share * contrast[c]!) };
}

function dot(a: Float64Array, b: Float64Array): number {
  return a.reduce((sum, value, c) => sum + value * b[c]!, 0);
}
