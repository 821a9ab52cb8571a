import type { GroundChange } from "../ground/columns.js";
import { compareCampaigns, correctDrift, estimateDepthSlices } from "../lib.js";
import { chance } from "../random.js";
import { makeSurvey } from "../survey.js";
import { campaignsOf } from "../written/in-memory.js";
import type { Case } from "./judge.js";
import { type ChangeScore, overlapOverUnion, scoreChanges } from "./score-stretches.js";

export interface ChangeJudged extends Case {
  readonly score: ChangeScore;
  /** Where the headline's 90 % interval lies about the truth; null where nothing was found. */
  readonly headline: "held" | "too low" | "too high" | null;
  /** Slices of found changes, and those whose 90 % interval holds the truth. */
  readonly slices: number;
  readonly slicesHeld: number;
  /** Stretches that were given to heights or zeros. */
  readonly offsets: number;
}

const LENGTH_M = 400;
/** What is planted where something is: 40 % over 80 m between 0.8 and 3.2 m, up or down. */
const PLANTED = { length_m: 80, top_m: 0.8, base_m: 3.2, factor: 0.6 };

/** Two campaigns with one planted change, or with none, through drift, slices and comparison. */
export async function judgeChange(one: Case, planted: boolean): Promise<ChangeJudged> {
  const changes = planted ? [plantedChange(one.seed)] : [];
  const made = makeSurvey({ ...one, campaigns: 2, changes, length_m: LENGTH_M });
  const [first, second] = campaignsOf(made).map((campaign) => correctDrift(campaign));
  const earlier = (await estimateDepthSlices(first!)).value;
  const shared = earlier.slices.length > 0 ? { slices: earlier.slices } : {};
  const later = (await estimateDepthSlices(second!, shared)).value;
  const { value } = compareCampaigns(earlier, later);
  const hit = value.changes.find((found) =>
    changes.some((true_) => overlapOverUnion(found, true_) >= 0.5),
  );
  const truth = (top_m: number, base_m: number) =>
    changes.reduce((factor, true_) => factor * partialFactor(true_, top_m, base_m), 1);
  const bySlice = hit?.bySlice ?? [];
  const main = bySlice.find(({ ratio }) => ratio === hit?.ratio);
  return {
    ...one,
    score: scoreChanges(value.changes, changes),
    headline: main === undefined ? null : side(main.interval, truth(main.top_m, main.base_m)),
    slices: bySlice.length,
    slicesHeld: bySlice.filter(
      ({ interval, top_m, base_m }) => side(interval, truth(top_m, base_m)) === "held",
    ).length,
    offsets: value.offsets?.length ?? 0,
  };
}

function plantedChange(seed: number): GroundChange {
  const random = chance(seed, "planted change");
  const from_m = random.between(40, LENGTH_M - 40 - PLANTED.length_m);
  const factor = random.sign() > 0 ? PLANTED.factor : 1 / PLANTED.factor;
  const { top_m, base_m } = PLANTED;
  return { from_m, to_m: from_m + PLANTED.length_m, top_m, base_m, factor };
}

/** The factor of a slice of which the change fills a part. */
function partialFactor(change: GroundChange, top_m: number, base_m: number): number {
  const shared = Math.min(base_m, change.base_m) - Math.max(top_m, change.top_m);
  return change.factor ** (Math.max(0, shared) / (base_m - top_m));
}

function side(interval: readonly [number, number], truth: number): "held" | "too low" | "too high" {
  if (interval[1] < truth) return "too low";
  return interval[0] > truth ? "too high" : "held";
}
