import { dot } from "../../numerics/algebra/dot.js";
import type { Channel } from "../../survey/survey.js";
import type { ReadingAnomaly } from "../anomaly/reading-anomaly.js";
import type { CoilPair } from "./coil-pairs.js";
import { metalSpectrum } from "./metal-spectrum.js";

/** The readings' parts of the normal equations for the amplitude of metal with one spectrum. */
export interface NormalTerms {
  /** g, the number of coil pairs. */
  readonly pairs: number;
  /** n × g products of the whitened anomaly with the whitened spectrum in each coil pair. */
  readonly rightSide: Float64Array;
  /** n × g × g products of these spectra with each other. */
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
  anomalies: readonly ReadingAnomaly[],
  spectra: readonly Float64Array[],
): NormalTerms {
  const [n, g] = [anomalies.length, spectra.length];
  const rightSide = new Float64Array(n * g);
  const gram = new Float64Array(n * g * g);
  const white = spectra.map((spectrum) => new Float64Array(spectrum.length));
  const scaled = new Float64Array(spectra[0]?.length ?? 0);
  for (const [i, { whitened, sd, present, whiten }] of anomalies.entries()) {
    for (let a = 0; a < g; a++) {
      const spectrum = spectra[a]!;
      for (let c = 0; c < scaled.length; c++) {
        scaled[c] = present[c] === 1 && spectrum[c] !== 0 ? spectrum[c]! / sd[c]! : 0;
      }
      whiten(scaled, white[a]!.fill(0));
      rightSide[i * g + a] = dot(white[a]!, whitened);
      for (let b = 0; b <= a; b++) {
        const product = dot(white[a]!, white[b]!);
        gram[(i * g + a) * g + b] = product;
        gram[(i * g + b) * g + a] = product;
      }
    }
  }
  return { pairs: g, rightSide, gram };
}
