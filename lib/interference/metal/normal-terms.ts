import { dot } from "../../numerics/algebra/dot.js";
import type { Channel } from "../../survey/survey.js";
import type { ReadingAnomaly } from "../anomaly/reading-anomaly.js";
import type { CoilPair } from "./coil-pairs.js";
import { metalSpectrum } from "./metal-spectrum.js";

/** A reading's part of the normal equations for the amplitude of metal with one spectrum. */
export interface NormalTerms {
  /** g products of the whitened anomaly with the whitened spectrum in each coil pair. */
  readonly rightSide: Float64Array;
  /** g × g products of these spectra with each other. */
  readonly gram: Float64Array;
}

/** For each of g coil pairs the spectrum of c channels; 0 in those of other pairs. */
export function pairSpectra(
  channels: readonly Channel[],
  pairs: readonly CoilPair[],
  decay_s: number,
): readonly Float64Array[] {
  return pairs.map(({ fields }) =>
    Float64Array.from(channels, (channel) =>
      fields.has(channel.field) ? metalSpectrum(channel, decay_s) : 0,
    ),
  );
}

export function normalTerms(
  { whitened, sd, present, whiten }: ReadingAnomaly,
  spectra: readonly Float64Array[],
): NormalTerms {
  const g = spectra.length;
  const white = spectra.map((spectrum) =>
    whiten(spectrum.map((value, c) => (present[c] === 1 && value !== 0 ? value / sd[c]! : 0))),
  );
  const rightSide = new Float64Array(g);
  const gram = new Float64Array(g * g);
  for (let a = 0; a < g; a++) {
    rightSide[a] = dot(white[a]!, whitened);
    for (let b = 0; b < g; b++) gram[a * g + b] = dot(white[a]!, white[b]!);
  }
  return { rightSide, gram };
}
