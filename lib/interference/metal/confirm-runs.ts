import { valueAt } from "../../numerics/arrays.js";
import { longestSeparation } from "../anomaly/line-profiles.js";
import type { ReadingAnomaly } from "../anomaly/reading-anomaly.js";
import { type ReadingRun, runsWhere, widened } from "../anomaly/reading-run.js";
import { coherenceOf } from "./coherence.js";
import { layeredMisfit } from "./layered-misfit.js";
import { METAL_FIT } from "./match-metal.js";
import type { ScoredProfile } from "./score-profile.js";

/** Readings within this many separations of a peak are looked at together. */
const REACH = 1.5;
/** A small piece of metal is that narrow, in separations, where ground could have its response. */
const NARROW = 3;
/** What neither ground nor a burst of noise comes near. */
const BEYOND = { score: 10, noises: 20 };
/** Below this score layered ground explains the readings, however much they differ from others. */
const LAYERED = 2;
/** Distance that a confirmed peak stands for, in separations, where the run goes on as noise. */
const STANDS_FOR = 2;

interface Confirming {
  readonly threshold: number;
  /** The other lines within reach aside. */
  readonly others: readonly ScoredProfile[];
}

/**
 * The parts of a run that metal explains. All of one whose readings neither ground nor bursts of
 * noise come near; none of a wide one whose readings themselves, and not only their departure from
 * what is around, layered ground explains. Else every peak above the threshold is tested: whether its
 * neighbours move along one spectrum, whether more than one frequency shows it, and whether the
 * other walks past the place show something too. A run whose peaks all pass is kept whole; of one
 * with peaks that do not, the surroundings of those that do.
 */
export function confirmedRuns(
  scored: ScoredProfile,
  run: ReadingRun,
  options: Confirming,
): readonly ReadingRun[] {
  const { score, noises } = layeredMisfit(scored, run);
  if (score >= BEYOND.score && noises >= BEYOND.noises) return [run];
  if (score < LAYERED && isWide(scored, run)) return [];
  const peaks = peaksOf(scored, run, options.threshold);
  const good = peaks.filter((at) => isMetal(scored, at, options));
  if (good.length === peaks.length) return good.length === 0 ? [] : [run];
  const kept = good.map((at) => clipped(around(scored, at, STANDS_FOR), run));
  return runsWhere(run.last + 1, (i) => kept.some(({ first, last }) => i >= first && i <= last));
}

/** Too wide for a small piece of metal: else a short conductive body would pass for one. */
function isWide({ profile }: ScoredProfile, { first, last }: ReadingRun): boolean {
  const { chainage_m } = profile;
  const length_m = valueAt(chainage_m, last) - valueAt(chainage_m, first);
  return length_m >= NARROW * longestSeparation(profile);
}

/** Chance coherence above which nothing is concluded; see tests/calibration.md, as for the rest. */
const TOO_FEW = 0.8;
const COHERENT = { middle: 0.65, scale: 0.1 };
/** Undisturbed readings reach 2 once in a few windows, metal in another walk nearly always. */
const SUPPORT = { middle: 2, scale: 1.5 };
/** Greatest share of one frequency, where another walk shows the place and where none does. */
const ONE_FREQUENCY = { supported: 0.75, alone: 0.62 };
/** Below this share it is no small piece of metal, nor several in a row. */
const LEAST_FIT = 0.2;

/** Metal, or a burst of noise? */
function isMetal(scored: ScoredProfile, at: number, { threshold, others }: Confirming): boolean {
  const { metal, fit } = metalNear(scored, around(scored, at, REACH / 2));
  if (metal >= threshold) return true;
  if (fit < LEAST_FIT) return false;
  const support = supportOf(scored, at, others);
  const { first, last } = around(scored, at, REACH);
  const near = scored.anomalies.slice(first, last + 1);
  const supported = support > SUPPORT.middle + 0.5;
  const most = supported ? ONE_FREQUENCY.supported : ONE_FREQUENCY.alone;
  if (shareOfOneFrequency(scored, near) > most) return false;
  const coherence = coherenceAmong(near, scored.profile.channels.length);
  const together = (coherence - COHERENT.middle) / COHERENT.scale;
  const elsewhere = Math.min(2, (support - SUPPORT.middle) / SUPPORT.scale);
  return (together || 0) + (elsewhere || 0) >= 0;
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

/**
 * Share of the squares along one direction of channel space; NaN where readings or channels are so
 * few that independent noise gives as much as metal.
 */
function coherenceAmong(near: readonly ReadingAnomaly[], channels: number): number {
  // Edge of the largest share of independent noise, m × c (Marchenko & Pastur 1967).
  const chance = (1 / Math.sqrt(near.length) + 1 / Math.sqrt(channels)) ** 2;
  return chance > TOO_FEW ? Number.NaN : coherenceOf(near.map(({ whitened }) => whitened));
}

/** Highest score of metal that explains most of the anomaly, and the greatest share explained. */
function metalNear({ match: { score, fit } }: ScoredProfile, { first, last }: ReadingRun) {
  const fits = fit.subarray(first, last + 1);
  const scores = score.subarray(first, last + 1).filter((_, i) => fits[i]! >= METAL_FIT);
  return { metal: greatest(scores), fit: greatest(fits) };
}

/** Highest score of another walk there; NaN where there is none. */
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

/** Share of the squares in the frequency that shows most; 0 where there are too few to compare. */
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
