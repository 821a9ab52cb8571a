import { missesBy, projectionOf } from "../checks/projection.js";
import type { DriftKind } from "../drift.js";
import type { Traits } from "./common-traits.js";
import { type DriftStories, type DriftStory, SCATTERS } from "./drift-hypotheses.js";
import type { Part } from "./drift-shapes.js";
import { type DriftFrame, solveDrift } from "./drift-system.js";

/** The stories of one channel, averaged by how likely its data make each. */
export interface AveragedDrift {
  readonly frame: DriftFrame;
  readonly pulls: readonly StoryPull[];
  /** How likely each kind is; they sum to 1. */
  readonly odds: Readonly<Record<DriftKind, number>>;
  /** How likely it is that the level steps at each of the times supposed. */
  readonly stepOdds: ReadonlyMap<number, number>;
  /** How many times likelier the data are with a drift or a step than without. */
  readonly evidence: number;
  /** Scatter of whole visits to be expected, in middle errors of their means. */
  readonly scatter: number;
  /** Variance that the level gains for each hour by its random walk. */
  readonly perHour: number;
  /** By how much each datum misses what all others foretell; NaN where they cannot. */
  readonly misses: Float64Array;
}

/**
 * Stories that share their parts, summed over their scatters. Of a contrast of the drift with link c
 * to the data and variance v of its own, their mean is c'p and their second moment wv − c'Sc.
 */
export interface StoryPull {
  readonly parts: readonly Part[];
  /** w: how likely these stories are together. */
  readonly weight: number;
  /** p, n entries. */
  readonly pull: Float64Array;
  /** S, n × n. */
  readonly spread: Float64Array;
}

interface WeighedStory extends DriftStory {
  readonly weight: number;
}

/** The likeliest stories that make up this share shape the curve, the others do not. */
const COUNTED = 0.98;

/**
 * Bayesian model averaging of all that may have happened.
 *
 * @param all one story or more
 * @param traits what to expect beforehand, as `commonTraits` tells
 * Source: Hoeting et al. 1999, Statistical Science 14, 382–417; Kass & Raftery 1995, Journal of the
 * American Statistical Association 90, 773–795 (Bayes factor).
 */
export function averageDrift(
  { stories }: Pick<DriftStories, "stories">,
  { scatterShares, setShares }: Traits,
): AveragedDrift {
  const best = stories.reduce((most, one) => Math.max(most, one.logLikelihood), -Infinity);
  const told = stories.map((story) => {
    const share = story.share * setShares[story.set]! * scatterShares[story.scatter]!;
    return { ...story, share, weight: share * Math.exp(story.logLikelihood - best) };
  });
  const total = told.reduce((sum, { weight }) => sum + weight, 0);
  const all = told.map((story) => ({ ...story, weight: story.weight / total }));
  return { frame: stories[0]!.frame, ...pulled(likeliest(all)), ...summary(all) };
}

function likeliest(all: readonly WeighedStory[]): readonly WeighedStory[] {
  const order = all.map(({ weight }) => weight).sort((a, b) => b - a);
  let sum = 0;
  const last = order.find((weight) => {
    sum += weight;
    return sum >= COUNTED;
  });
  // Stories as likely as the last one count with it, so that rounding decides nothing.
  const counted = all.filter(({ weight }) => weight >= last! * (1 - 1e-6));
  const total = counted.reduce((most, { weight }) => most + weight, 0);
  return counted.map((one) => ({ ...one, weight: one.weight / total }));
}

function summary(all: readonly WeighedStory[]) {
  const weightOf = (is: (story: DriftStory) => boolean) =>
    all.reduce((sum, story) => sum + (is(story) ? story.weight : 0), 0);
  const shareOf = (is: (story: DriftStory) => boolean) =>
    all.reduce((sum, story) => sum + (is(story) ? story.share : 0), 0);
  const oddsOf = (name: DriftKind) => weightOf(({ kind }) => kind === name);
  const isStill = ({ kind, steps_s }: DriftStory) => kind === "steady" && steps_s.length === 0;
  const drifts = (story: DriftStory) => !isStill(story);
  const walks = all.filter(({ kind }) => kind === "wandering");
  const span_h = all[0]!.frame.span_h || 1;
  const steps_s = new Set(all.flatMap((story) => story.steps_s));
  return {
    odds: {
      steady: oddsOf("steady"),
      straight: oddsOf("straight"),
      "warm-up": oddsOf("warm-up"),
      swinging: oddsOf("swinging"),
      wandering: oddsOf("wandering"),
    },
    stepOdds: new Map(
      [...steps_s].map((time_s) => [time_s, weightOf((story) => story.steps_s.includes(time_s))]),
    ),
    evidence: weightOf(drifts) / weightOf(isStill) / (shareOf(drifts) / shareOf(isStill)),
    perHour: walks.reduce((sum, one) => sum + (one.weight * one.parts[0]!.size ** 2) / span_h, 0),
    scatter: all.reduce((sum, story) => sum + SCATTERS[story.scatter]! * story.weight, 0),
  };
}

type Sums = { -readonly [K in keyof StoryPull]: StoryPull[K] };

/** Each story of weight w adds w P y to p and w (P − P y y'P) to S, P as `projectionOf` has it. */
function pulled(counted: readonly WeighedStory[]) {
  const n = counted[0]!.frame.data.length;
  const pulls = new Map<Float64Array, Sums>();
  const misses = new Float64Array(n);
  for (const { wander, parts, frame, weight } of counted) {
    const empty = { parts, weight: 0, pull: new Float64Array(n), spread: new Float64Array(n * n) };
    const sums = pulls.get(wander) ?? empty;
    pulls.set(wander, sums);
    const solved = solveDrift({ ...frame, wander }, 1);
    const projection = projectionOf(solved);
    const own = missesBy(solved, projection);
    sums.weight += weight;
    for (let i = 0; i < n; i++) {
      sums.pull[i]! += weight * solved.pull[i]!;
      misses[i]! += weight * own[i]!;
      for (let j = 0; j < n; j++) {
        const moment = projection.matrix[i * n + j]! - solved.pull[i]! * solved.pull[j]!;
        sums.spread[i * n + j]! += weight * moment;
      }
    }
  }
  return { pulls: [...pulls.values()], misses };
}
