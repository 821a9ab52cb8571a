import type { Parts } from "../reading-parts.js";
import { coherenceOf } from "./coherence.js";
import { FITS } from "./matched.js";
import type { TrackScore } from "./score.js";

/** Readings of a track from `first` to `last`, both included. */
export interface Run {
  readonly first: number;
  readonly last: number;
}

/** Readings within this many separations of a peak are looked at together. */
const REACH = 1.5;
/** Distance that a confirmed peak stands for, in separations, where the run goes on as noise. */
const STANDS_FOR = 2;

/**
 * The parts of a run that metal explains. Every peak above the threshold is asked whether its
 * neighbours move along one spectrum, whether more than one frequency shows it, and whether the other
 * walks past the place show something too. A run whose peaks all agree is kept whole; of one with
 * peaks that do not, the surroundings of those that do.
 *
 * @param others scores of the other tracks within reach aside
 */
export function confirmedRuns(
  scored: TrackScore,
  run: Run,
  { threshold, others }: { readonly threshold: number; readonly others: readonly TrackScore[] },
): readonly Run[] {
  const peaks = peaksOf(scored, run, threshold);
  const good = peaks.filter((at) => isMetal(evidenceAt(scored, at, others), threshold));
  if (good.length === 0) return [];
  if (good.length === peaks.length) return [run];
  return good.map((at) => around(scored, at, STANDS_FOR, run)).reduce(joined, []);
}

/** What speaks for metal at a peak rather than for a burst of noise. */
interface Evidence {
  /** Share of the squares along one direction of channel space; NaN where chance could give any. */
  readonly coherence: number;
  /** Share of the frequency that shows most; 0 where there are too few to ask. */
  readonly oneFrequency: number;
  /** Highest score of another walk there; NaN where there is none. */
  readonly support: number;
  /** Highest score of a piece of metal that explains most of what is seen; NaN where none does. */
  readonly metal: number;
  /** Greatest share that a piece of metal nearby explains. */
  readonly fit: number;
}

/** Half of all peaks in bursts lie below 0.55, of metal one in fifty below 0.66; calibrated by seeds. */
const TOO_FEW = 0.8;
const COHERENT = { middle: 0.65, scale: 0.1 };
/** Undisturbed readings reach 2 once in a few windows, metal in another walk nearly always. */
const SUPPORT = { middle: 2, scale: 1.5 };
/** Greatest share of one frequency, where another walk shows the place and where none does. */
const ONE_FREQUENCY = { supported: 0.75, alone: 0.62 };
/** Below this share no small piece of metal looks like it, nor do several in a row. */
const LEAST_FIT = 0.2;

function isMetal(evidence: Evidence, threshold: number): boolean {
  const { coherence, oneFrequency, support, metal, fit } = evidence;
  if (metal >= threshold) return true;
  if (fit < LEAST_FIT) return false;
  const supported = support > SUPPORT.middle + 0.5;
  const most = supported ? ONE_FREQUENCY.supported : ONE_FREQUENCY.alone;
  if (oneFrequency > most) return false;
  const together = Number.isNaN(coherence) ? 0 : (coherence - COHERENT.middle) / COHERENT.scale;
  const elsewhere = Number.isNaN(support)
    ? 0
    : Math.min(2, (support - SUPPORT.middle) / SUPPORT.scale);
  return together + elsewhere >= 0;
}

function joined(done: readonly Run[], run: Run): readonly Run[] {
  const before = done.at(-1);
  if (before === undefined || run.first > before.last + 1) return [...done, run];
  return [...done.slice(0, -1), { first: before.first, last: Math.max(before.last, run.last) }];
}

/** Readings above the threshold that no neighbour within reach exceeds. */
function peaksOf(scored: TrackScore, run: Run, threshold: number): readonly number[] {
  const peaks: number[] = [];
  for (let i = run.first; i <= run.last; i++) {
    if (!(scored.score[i]! >= threshold)) continue;
    const { first, last } = around(scored, i, REACH, run);
    const highest = scored.score.subarray(first, last + 1).reduce((a, b) => (b > a ? b : a));
    if (scored.score[i]! >= highest) peaks.push(i);
  }
  return peaks;
}

function around({ track }: TrackScore, at: number, reach: number, within: Run): Run {
  const { chainage_m, channels } = track;
  const reach_m = reach * Math.max(...channels.map(({ separation_m }) => separation_m));
  let [first, last] = [at, at];
  while (first > within.first && chainage_m[first - 1]! >= chainage_m[at]! - reach_m) first--;
  while (last < within.last && chainage_m[last + 1]! <= chainage_m[at]! + reach_m) last++;
  return { first, last };
}

function evidenceAt(scored: TrackScore, at: number, others: readonly TrackScore[]): Evidence {
  const whole = { first: 0, last: scored.score.length - 1 };
  const { first, last } = around(scored, at, REACH, whole);
  const near = scored.parts.slice(first, last + 1);
  return {
    coherence: coherenceAmong(near, scored.track.channels.length),
    oneFrequency: shareOfOneFrequency(scored, near),
    support: supportOf(scored, at, others),
    ...metalNear(scored, around(scored, at, REACH / 2, whole)),
  };
}

/** NaN where readings or channels are so few that independent noise gives as much as metal. */
function coherenceAmong(near: readonly Parts[], channels: number): number {
  // Edge of the largest share of independent noise, m × c (Marchenko & Pastur 1967).
  const chance = (1 / Math.sqrt(near.length) + 1 / Math.sqrt(channels)) ** 2;
  return chance > TOO_FEW ? Number.NaN : coherenceOf(near.map(({ white }) => white));
}

function metalNear({ metal: { score, fit } }: TrackScore, { first, last }: Run) {
  let [metal, most] = [Number.NaN, Number.NaN];
  for (let i = first; i <= last; i++) {
    if (fit[i]! >= FITS && !(score[i]! <= metal)) metal = score[i]!;
    if (!(fit[i]! <= most)) most = fit[i]!;
  }
  return { metal, fit: most };
}

function supportOf({ track }: TrackScore, at: number, others: readonly TrackScore[]): number {
  const reach_m = REACH * Math.max(...track.channels.map(({ separation_m }) => separation_m));
  let most = Number.NaN;
  for (const { track: other, score } of others) {
    for (const [j, x] of other.chainage_m.entries()) {
      if (Math.abs(x - track.chainage_m[at]!) > reach_m || Number.isNaN(score[j]!)) continue;
      if (!(score[j]! <= most)) most = score[j]!;
    }
  }
  return most;
}

function shareOfOneFrequency({ track }: TrackScore, near: readonly Parts[]): number {
  const groups = new Map<string, number>();
  let total = 0;
  for (const { excursion, unlike } of near) {
    for (const [c, { frequency_Hz, separation_m }] of track.channels.entries()) {
      const square = Math.abs(excursion[c]! * unlike[c]!);
      const key = `${frequency_Hz} ${separation_m}`;
      groups.set(key, (groups.get(key) ?? 0) + square);
      total += square;
    }
  }
  return groups.size > 2 && total > 0 ? Math.max(...groups.values()) / total : 0;
}
