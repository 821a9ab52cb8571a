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

export function normalTerms(
  { whitened, sd, present, whiten }: ReadingAnomaly,
  channels: readonly Channel[],
  { pairs, decay_s }: { readonly pairs: readonly CoilPair[]; readonly decay_s: number },
): NormalTerms {
  const spectra = pairs.map(({ fields }) =>
    whiten(
      Float64Array.from(channels, (channel, c) =>
        present[c] === 1 && fields.has(channel.field)
          ? metalSpectrum(channel, decay_s) / sd[c]!
          : 0,
      ),
    ),
  );
  return {
    rightSide: Float64Array.from(spectra, (spectrum) => dot(spectrum, whitened)),
    gram: Float64Array.from(spectra.flatMap((one) => spectra.map((other) => dot(one, other)))),
  };
}
