import { confirmedRuns, type Run } from "./confirm.js";
import type { TrackScore } from "./score.js";

export interface DetectOptions {
  readonly threshold: number;
  readonly growTo: number;
  readonly share: number;
  readonly margin_m: number;
}

/** A stretch of one track that no layered ground explains. */
export interface Detection {
  readonly from_m: number;
  readonly to_m: number;
  readonly offset_m: number;
  readonly channels: readonly string[];
  readonly score: number;
  /** True where an object along the line shifts the stretch as a whole; else left out. */
  readonly along?: true;
}

/** An average excursion shows in a channel from this many standard errors on. */
const SHOWS = 4;

/**
 * Runs of readings whose score stays above `growTo` and reaches the threshold where at least `share`
 * of the excursion is unlike ground, where it is no burst of noise, widened by the margin.
 */
export function detectOn(
  scored: TrackScore,
  options: DetectOptions,
  others: readonly TrackScore[] = [],
): readonly Detection[] {
  const { score, share, track } = scored;
  const found: Detection[] = [];
  for (let i = 0; i < score.length; i++) {
    if (!(score[i]! >= options.growTo)) continue;
    const first = i;
    let reached = false;
    for (; i < score.length && score[i]! >= options.growTo; i++) {
      reached ||= score[i]! >= options.threshold && share[i]! >= options.share;
    }
    const whole = { first, last: i - 1 };
    if (!reached || !(scored.complete || swings(scored, whole))) continue;
    for (const run of confirmedRuns(scored, whole, { ...options, others })) {
      found.push({
        from_m: track.chainage_m[run.first]! - options.margin_m,
        to_m: track.chainage_m[run.last]! + options.margin_m,
        ...describe(scored, run),
      });
    }
  }
  return found;
}

function describe(scored: TrackScore, run: Run) {
  const { track, score } = scored;
  return {
    offset_m: mean(track.offset_m.subarray(run.first, run.last + 1)),
    channels: channelsIn(scored, run),
    score: score.subarray(run.first, run.last + 1).reduce((most, one) => Math.max(most, one), 0),
  };
}

/** Fields of the channels that show an excursion, a part of it at least unlike ground. */
export function channelsIn(scored: TrackScore, { first, last }: Run): readonly string[] {
  const reaches = (column: Float64Array, least: number) =>
    column.subarray(first, last + 1).some((value) => Math.abs(value) >= least);
  return scored.track.channels
    .filter((_, c) => reaches(scored.excursion[c]!, SHOWS) && reaches(scored.unlike[c]!, SHOWS / 2))
    .map(({ field }) => field);
}

/** With too few channels to judge by proportion, metal must show as a swing of both signs. */
function swings(scored: TrackScore, { first, last }: Run): boolean {
  const { chainage_m, channels } = scored.track;
  const reach_m = 2 * Math.max(...channels.map(({ separation_m }) => separation_m));
  let [from, to] = [first, last];
  while (from > 0 && chainage_m[from - 1]! >= chainage_m[first]! - reach_m) from--;
  while (to + 1 < chainage_m.length && chainage_m[to + 1]! <= chainage_m[last]! + reach_m) to++;
  return scored.excursion.some((column) => {
    const near = column.subarray(from, to + 1);
    return near.some((value) => value >= SHOWS) && near.some((value) => value <= -SHOWS);
  });
}

function mean(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
