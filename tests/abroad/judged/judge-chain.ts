import type { GroundChange } from "../ground/columns.js";
import { compareCampaigns, correctDrift, estimateDepthSlices, segmentBlocks } from "../lib.js";
import { chance } from "../random.js";
import { makeSurvey } from "../survey.js";
import { campaignsOf } from "../written/in-memory.js";
import type { Case } from "./judge.js";
import { type ChangeScore, scoreBoundaries, scoreChanges } from "./score-stretches.js";

export interface ChainJudged extends Case {
  /** First campaign: boundaries within 5 m. */
  readonly boundaries: ReturnType<typeof scoreBoundaries>;
  /** Second campaign to third, with two stretches changed. */
  readonly changes: ChangeScore;
  /** Found stretches, first campaign to second, where nothing changed but the season. */
  readonly falseAtRest: number;
}

const LENGTH_M = 400;

/** Three campaigns through drift, depth slices, blocks and comparison; the third sees two changes. */
export async function judgeChain(one: Case): Promise<ChainJudged> {
  const changes = plantedChanges(one.seed);
  const made = makeSurvey({ ...one, campaigns: 3, changes, length_m: LENGTH_M });
  const corrected = campaignsOf(made).map((campaign) => correctDrift(campaign));
  const first = (await estimateDepthSlices(corrected[0]!)).value;
  const shared = first.slices.length > 0 ? { slices: first.slices } : {};
  const [second, third] = [
    await estimateDepthSlices(corrected[1]!, shared),
    await estimateDepthSlices(corrected[2]!, shared),
  ];
  const starts = segmentBlocks(first).value.blocks.slice(1);
  const boundaries_m = starts.map(({ from_m }) => from_m);
  return {
    ...one,
    boundaries: scoreBoundaries(boundaries_m, made.truth),
    changes: scoreChanges(compareCampaigns(second, third).value.changes, changes),
    falseAtRest: compareCampaigns(first, second).value.changes.length,
  };
}

/** One stretch that fell to 0.6 and one that rose by as much, 40 to 80 m long, from 0.4 to 2 m. */
function plantedChanges(seed: number): readonly GroundChange[] {
  const random = chance(seed, "planted");
  return [0.6, 1 / 0.6].map((factor, half) => {
    const from_m = (LENGTH_M / 2) * half + random.between(30, 90);
    return {
      from_m,
      to_m: from_m + random.between(40, 80),
      top_m: 0.4,
      base_m: 2,
      factor,
      since: 2,
    };
  });
}
