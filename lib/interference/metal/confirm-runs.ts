import { longestSeparation } from "../anomaly/line-profiles.js";
import type { ReadingAnomaly } from "../anomaly/reading-anomaly.js";
import { type ReadingRun, widened } from "../anomaly/reading-run.js";
import { coherenceOf } from "./coherence.js";
import { METAL_FIT } from "./match-metal.js";
import type { ScoredProfile } from "./score-profile.js";

/** Readings within this many separations of a peak are looked at together. */
const REACH = 1.5;
/** Distance that a confirmed peak stands for, in separations, where the run goes on as noise. */
const STANDS_FOR = 2;

/**
 * The parts of a run that metal explains. Every peak above the threshold is tested: whether its
 * neighbours move along one spectrum, whether more than one frequency shows it, and whether the
 * other walks past the place show something too. A run whose peaks all pass is kept whole; of one
 * with peaks that do not, the surroundings of those that do.
 *
 * @param others - the other lines within reach aside.
 */
export function confirmedRuns(
  scored: ScoredProfile,
  run: ReadingRun,
  { threshold, others }: { readonly threshold: number; readonly others: readonly ScoredProfile[] },
): readonly ReadingRun[] {
  const peaks = peaksOf(scored, run, threshold);
  const good = peaks.filter((at) => isMetal(evidenceAt(scored, at, others), threshold));
  if (good.length === peaks.length) return good.length === 0 ? [] : [run];
  return good.map((at) => clipped(around(scored, at, STANDS_FOR), run)).reduce(joined, []);
}

/** What is found about a peak: metal, or a burst of noise. */
interface PeakEvidence {
  /** Share of the squares along one direction of channel space; NaN where chance could give any. */
  readonly coherence: number;
  /** Share of the frequency that shows most; 0 where there are too few to compare. */
  readonly oneFrequency: number;
  /** Highest score of another walk there; NaN where there is none. */
  readonly support: number;
  /** Highest score of a piece of metal that explains most of the anomaly; NaN where none does. */
  readonly metal: number;
  /** Greatest share that a piece of metal nearby explains. */
  readonly fit: number;
}

/** Chance coherence above which nothing is concluded; see docs/calibration.md, as for the rest. */
const TOO_FEW = 0.8;
const COHERENT = { middle: 0.65, scale: 0.1 };
/** Undisturbed readings reach 2 once in a few windows, metal in another walk nearly always. */
const SUPPORT = { middle: 2, scale: 1.5 };
/** Greatest share of one frequency, where another walk shows the place and where none does. */
const ONE_FREQUENCY = { supported: 0.75, alone: 0.62 };
/** Below this share it is no small piece of metal, nor several in a row. */
const LEAST_FIT = 0.2;

function isMetal(evidence: PeakEvidence, threshold: number): boolean {
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

function joined(done: readonly ReadingRun[], run: ReadingRun): readonly ReadingRun[] {
  const before = done.at(-1);
  if (before === undefined || run.first > before.last + 1) return [...done, run];
  return [...done.slice(0, -1), { first: before.first, last: Math.max(before.last, run.last) }];
}

/** Readings above the threshold that no neighbour within reach exceeds. */
function peaksOf(scored: ScoredProfile, run: ReadingRun, threshold: number): readonly number[] {
  const peaks: number[] = [];
  for (let i = run.first; i <= run.last; i++) {
    const own = scored.score[i]!;
    if (!(own >= threshold)) continue;
    const { first, last } = clipped(around(scored, i, REACH), run);
    if (!scored.score.subarray(first, last + 1).some((one) => one > own)) peaks.push(i);
  }
  return peaks;
}

function around({ profile }: ScoredProfile, at: number, separations: number): ReadingRun {
  const reach_m = separations * longestSeparation(profile);
  return widened(profile.chainage_m, { first: at, last: at }, reach_m);
}

function clipped(run: ReadingRun, to: ReadingRun): ReadingRun {
  return { first: Math.max(run.first, to.first), last: Math.min(run.last, to.last) };
}

function evidenceAt(
  scored: ScoredProfile,
  at: number,
  others: readonly ScoredProfile[],
): PeakEvidence {
  const { first, last } = around(scored, at, REACH);
  const near = scored.anomalies.slice(first, last + 1);
  return {
    coherence: coherenceAmong(near, scored.profile.channels.length),
    oneFrequency: shareOfOneFrequency(scored, near),
    support: supportOf(scored, at, others),
    ...metalNear(scored, around(scored, at, REACH / 2)),
  };
}

/** NaN where readings or channels are so few that independent noise gives as much as metal. */
function coherenceAmong(near: readonly ReadingAnomaly[], channels: number): number {
  // Edge of the largest share of independent noise, m × c (Marchenko & Pastur 1967).
  const chance = (1 / Math.sqrt(near.length) + 1 / Math.sqrt(channels)) ** 2;
  return chance > TOO_FEW ? Number.NaN : coherenceOf(near.map(({ whitened }) => whitened));
}

function metalNear({ match: { score, fit } }: ScoredProfile, { first, last }: ReadingRun) {
  const fits = fit.subarray(first, last + 1);
  const scores = score.subarray(first, last + 1).filter((_, i) => fits[i]! >= METAL_FIT);
  return { metal: greatest(scores), fit: greatest(fits) };
}

function supportOf(
  { profile }: ScoredProfile,
  at: number,
  others: readonly ScoredProfile[],
): number {
  const reach_m = REACH * longestSeparation(profile);
  const here_m = profile.chainage_m[at]!;
  const near = others.map(({ profile: { chainage_m }, score }) =>
    greatest(score.filter((_, j) => Math.abs(chainage_m[j]! - here_m) <= reach_m)),
  );
  return greatest(near);
}

/** NaN counts as missing; NaN of nothing. */
function greatest(values: ArrayLike<number>): number {
  return Array.from(values).reduce(
    (most, one) => (one <= most || Number.isNaN(one) ? most : one),
    Number.NaN,
  );
}

function shareOfOneFrequency({ profile }: ScoredProfile, near: readonly ReadingAnomaly[]): number {
  const shares = new Map<string, number>();
  let total = 0;
  for (const { anomaly, residual } of near) {
    for (const [c, { frequency_Hz, separation_m }] of profile.channels.entries()) {
      const square = Math.abs(anomaly[c]! * residual[c]!);
      const key = `${frequency_Hz} ${separation_m}`;
      shares.set(key, (shares.get(key) ?? 0) + square);
      total += square;
    }
  }
  return shares.size > 2 && total > 0 ? Math.max(...shares.values()) / total : 0;
}
