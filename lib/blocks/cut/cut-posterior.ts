import { itemAt, zipped } from "../../numerics/arrays.js";
import type { SegmentCosts } from "./segment-cost.js";
import { reversedCosts } from "./segment-costs.js";
import { type CutSum, sumOverCuts } from "./sum-over-cuts.js";

/** Where a boundary lies, as indices of the first sample after it. */
export interface BoundaryRange {
  readonly at: number;
  /** The shortest stretch with 90 % of the break's probability, given the number of breaks. */
  readonly from: number;
  readonly to: number;
  /** Probability of any break in the stretch that holds 99 % given that there is one. */
  readonly probability: number;
}

export interface CutPosterior {
  readonly ranges: readonly BoundaryRange[];
  /** n + 1 probabilities of a break before each sample; 0 at both ends. */
  readonly breakProbability: Float64Array;
  /** Probability of 0, 1, 2, … breaks; the last entry is for that many and more. */
  readonly numberProbability: readonly number[];
}

interface PosteriorOptions {
  readonly pricePerBreak: number;
  readonly minLength: number;
  /**
   * Noise variance of a mean over many samples, which the costs are in units of, over that of a
   * mean over `width` samples; at least 1. Default 1: neighbouring errors are independent.
   */
  readonly excess?: (width: number) => number;
}

/** Numbers of breaks beyond the cut's own that are counted apart. */
const MORE_BREAKS = 6;

/**
 * The exact posterior of where breaks lie and how many there are: every cut with segments of at
 * least `minLength` samples has the weight exp(−½ objective), so that the best cut is the most
 * probable one. A boundary's range is of the k-th break of all cuts with as many breaks as the best
 * one, wherever the others lie; its probability and that of the number are over all cuts.
 *
 * Source: Fearnhead 2006, Statistics and Computing 16, 203–213 (forward–backward recursions).
 */
export function cutPosterior(
  costs: SegmentCosts,
  breaks: readonly number[],
  options: PosteriorOptions,
): CutPosterior {
  const mostBreaks = breaks.length;
  const sums = {
    forward: sumOverCuts(costs, { ...options, mostBreaks }),
    backward: sumOverCuts(reversedCosts(costs), { ...options, mostBreaks }),
    samples: costs.samples,
    breaks: mostBreaks,
  };
  const places = breaks.map((_, k) => placesOf(sums, k));
  const windows = places.map((place) => shortestRange(place, 0.99));
  const more = mostBreaks + MORE_BREAKS;
  const all = sumOverCuts(costs, { ...options, windows, mostBreaks: more });
  const ranges = zipped(breaks, places).map(([at, place], k) => {
    const [from, to] = rangeAtItsScale(place, options.excess);
    const probability = Math.min(1, Math.max(0, 1 - itemAt(all.windowEmpty, k)));
    return { at, from: Math.min(from, at), to: Math.max(to, at), probability };
  });
  const numberProbability = Array.from(all.breaks.subarray(costs.samples * (more + 2)));
  return { ranges, breakProbability: anyBreak(sums, options.pricePerBreak), numberProbability };
}

interface Sums {
  readonly forward: CutSum;
  readonly backward: CutSum;
  readonly samples: number;
  readonly breaks: number;
}

/** n + 1 probabilities of the place of the k-th break (from 0), given the number of breaks. */
function placesOf({ forward, backward, samples: n, breaks }: Sums, k: number): Float64Array {
  const width = breaks + 2;
  const logs = new Float64Array(n + 1).fill(Number.NEGATIVE_INFINITY);
  for (let i = 1; i < n; i++) {
    const before = forward.log[i]! + Math.log(forward.breaks[i * width + k]!);
    const rest = (n - i) * width + (breaks - 1 - k);
    logs[i] = before + backward.log[n - i]! + Math.log(backward.breaks[rest]!);
  }
  const most = logs.reduce((high, value) => Math.max(high, value), Number.NEGATIVE_INFINITY);
  return normalised(logs.map((value) => Math.exp(value - most)));
}

function normalised(weights: Float64Array): Float64Array {
  const total = weights.reduce((sum, value) => sum + value, 0);
  return weights.map((value) => value / total);
}

function anyBreak({ forward, backward, samples: n }: Sums, pricePerBreak: number): Float64Array {
  const probability = new Float64Array(n + 1);
  for (let i = 1; i < n; i++) {
    const log = forward.log[i]! + backward.log[n - i]! - forward.log[n]! - 0.5 * pricePerBreak;
    probability[i] = Math.exp(log);
  }
  return probability;
}

/**
 * The 90 % range with the noise of its own width. Whether a break lies w samples further depends on
 * the w samples between; where neighbours are correlated, the error of the mean of a few is less
 * than the long-run noise, so the log posterior is multiplied by the excess at that width.
 */
function rangeAtItsScale(
  places: Float64Array,
  excess: PosteriorOptions["excess"],
): [number, number] {
  const wide = shortestRange(places, 0.9);
  if (excess === undefined) return wide;
  const power = excess(wide[1] - wide[0] + 1);
  return shortestRange(normalised(places.map((value) => value ** power)), 0.9);
}

/** The shortest stretch with `mass` of the probability; among equals the most probable. */
function shortestRange(probability: Float64Array, mass: number): [number, number] {
  let best: [number, number] = [0, probability.length - 1];
  let most = 1;
  let held = 0;
  for (let from = 0, to = -1; from < probability.length; held -= probability[from]!, from++) {
    while (held < mass && to + 1 < probability.length) held += probability[++to]!;
    if (held < mass) break;
    const longer = to - from - (best[1] - best[0]);
    if (longer < 0 || (longer === 0 && held > most)) {
      best = [from, to];
      most = held;
    }
  }
  return best;
}
