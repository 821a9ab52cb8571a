import { dot } from "../../numerics/algebra/dot.js";
import { madScale } from "../../numerics/statistics/robust.js";
import { type LineProfile, longestSeparation } from "../anomaly/line-profiles.js";
import type { ReadingAnomaly } from "../anomaly/reading-anomaly.js";
import { type ReadingRun, widened } from "../anomaly/reading-run.js";
import { type CoilPair, coilPairs } from "./coil-pairs.js";
import { metalCoupling } from "./metal-coupling.js";
import { type NormalTerms, normalTerms, pairSpectra } from "./normal-terms.js";
import { type TrialPlace, trialPlaces } from "./trial-places.js";

/** For each reading, how well a piece of metal there explains what its surroundings show. */
export interface MetalMatch {
  /** n amplitudes of the best fitting metal over their standard errors, not negative. */
  readonly score: Float64Array;
  /** n shares of the squares nearby that this metal explains, 0 to 1. */
  readonly fit: Float64Array;
}

/**
 * Share of the squares nearby from which on metal explains what is seen; see tests/calibration.md.
 */
export const METAL_FIT = 0.35;
/** Decay times tried, s; `Infinity` responds in phase only. */
const DECAYS_s = [1e-6, 3e-6, 6e-6, 1.2e-5, 2.5e-5, 5e-5, 1e-4, 3e-4, Number.POSITIVE_INFINITY];
/** Readings within this many separations of the metal count. */
const REACH = 1.5;

/**
 * The matched filter for a small conductive body: at every reading the whitened anomalies nearby
 * are set against the coupling of a body at some depths and distances aside, with the spectra of
 * some decay times. An amplitude over its standard error is standard normal on undisturbed ground;
 * where the ground's small-scale variation widens its scatter, it is scaled to its own robust
 * scatter along the line. The best filter counts.
 */
export function matchMetal(profile: LineProfile, anomalies: readonly ReadingAnomaly[]): MetalMatch {
  const reach_m = REACH * longestSeparation(profile);
  const near = Array.from(profile.rows, (_, i) =>
    widened(profile.chainage_m, { first: i, last: i }, reach_m),
  );
  const pairs = coilPairs(profile.channels);
  const spectra = DECAYS_s.map((decay_s) =>
    normalTerms(anomalies, pairSpectra(profile.channels, pairs, decay_s)),
  );
  const squares = anomalies.map(({ whitened }) => dot(whitened, whitened));
  const squaresNear = near.map(({ first, last }) =>
    squares.slice(first, last + 1).reduce((sum, one) => sum + one, 0),
  );
  const score = new Float64Array(anomalies.length).fill(Number.NaN);
  const fit = score.slice();
  for (const place of trialPlaces(profile)) {
    const coupling = couplings(profile.chainage_m, near, { pairs, place });
    for (const terms of spectra) {
      keepBetter({ score, fit }, amplitudes(terms, near, coupling), squaresNear);
    }
  }
  return { score, fit };
}

/** Scales a filter to its own robust scatter along the line, and keeps it where it scores more. */
function keepBetter(
  { score, fit }: MetalMatch,
  amplitude: Float64Array,
  squaresNear: readonly number[],
): void {
  const scale = Math.max(1, madScale(amplitude));
  for (const [i, square] of squaresNear.entries()) {
    const one = Math.abs(amplitude[i]!) / scale;
    if (!(one >= 0) || one <= score[i]!) continue;
    score[i] = one;
    fit[i] = square > 0 ? Math.min(1, amplitude[i]! ** 2 / square) : 0;
  }
}

/** n lists: for each reading nearby, the coupling of metal at the reading to each coil pair. */
function couplings(
  chainage_m: Float64Array,
  near: readonly ReadingRun[],
  { pairs, place }: { readonly pairs: readonly CoilPair[]; readonly place: TrialPlace },
): readonly Float64Array[] {
  return near.map(({ first, last }, i) => {
    const own = new Float64Array((last + 1 - first) * pairs.length);
    for (let j = first, at = 0; j <= last; j++) {
      const along_m = place.facing * (chainage_m[i]! - chainage_m[j]!);
      const seen = { along_m, aside_m: place.aside_m, below_m: place.below_m };
      for (const { coils } of pairs) own[at++] = metalCoupling(coils, seen);
    }
    return own;
  });
}

/** For each reading the amplitude of metal there, over its standard error. */
function amplitudes(
  { pairs: count, rightSide, gram }: NormalTerms,
  near: readonly ReadingRun[],
  coupling: readonly Float64Array[],
): Float64Array {
  return Float64Array.from(near, ({ first, last }, i) => {
    const own = coupling[i]!;
    let [along, square, at] = [0, 0, 0];
    for (let j = first; j <= last; j++) {
      for (let g = 0; g < count; g++) {
        const row = j * count + g;
        along += own[at + g]! * rightSide[row]!;
        for (let h = 0; h < count; h++) {
          square += own[at + g]! * own[at + h]! * gram[row * count + h]!;
        }
      }
      at += count;
    }
    return square > 0 ? along / Math.sqrt(square) : Number.NaN;
  });
}
