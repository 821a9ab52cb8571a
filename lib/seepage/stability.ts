import { itemAt } from "../numerics/arrays.js";
import { seededRandom } from "../numerics/random.js";
import { quantile } from "../numerics/statistics/robust.js";
import { bandOf, probabilityOf } from "./bands.js";
import type { SeepageOptions } from "./options.js";
import type { EvidenceName, SeepageBand, UsedWeight, ZoneEvidence } from "./seepage.js";

/** What becomes of a zone's rank and band under other weights. */
export interface Stability {
  /** 80 % of its ranks. */
  readonly rankRange: readonly [number, number];
  /** Share of the trials in which its band stays. */
  readonly bandKept: number;
}

interface Ranked {
  readonly score: number;
  readonly band: SeepageBand;
  readonly evidence: readonly ZoneEvidence[];
}

const TRIALS = 400;

/**
 * Ranks of the zones under weights drawn from their ranges: each piece's weights are multiplied by
 * one normal draw a trial (about 1, with the weights' own relative deviation), common to all zones.
 */
export function stabilityOf(
  zones: readonly Ranked[],
  weights: Readonly<Record<EvidenceName, UsedWeight>>,
  used: SeepageOptions,
): readonly Stability[] {
  const random = seededRandom(used.seed);
  const names = zones[0]?.evidence.map(({ name }) => name) ?? [];
  const trials = Array.from({ length: TRIALS }, () => {
    const change = names.map((name) => relativeSd(weights[name]) * random.normal());
    return zones.map(({ score, evidence }) =>
      evidence.reduce((sum, { weight }, k) => sum + weight * itemAt(change, k), score),
    );
  });
  return zones.map(({ band }, z) => {
    const ranks = trials.map((scores) => {
      const own = itemAt(scores, z);
      return 1 + scores.filter((other) => other > own).length;
    });
    const kept = trials.filter((scores) => {
      return bandOf(probabilityOf(itemAt(scores, z)), used) === band;
    });
    const rankRange = [quantile(ranks, 0.1), quantile(ranks, 0.9)].map(Math.round);
    return {
      rankRange: [itemAt(rankRange, 0), itemAt(rankRange, 1)] as const,
      bandKept: kept.length / TRIALS,
    };
  });
}

function relativeSd({ present, absent, sd }: UsedWeight): number {
  const most = Math.max(Math.abs(present), Math.abs(absent));
  return most > 0 ? sd / most : 0;
}
