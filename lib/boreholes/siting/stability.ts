import { itemAt } from "../../numerics/arrays.js";
import { choiceOf, type Reweighing, type Settled } from "./gain.js";
import { greedyChoice } from "./greedy.js";
import type { SitingOptions } from "./options.js";
import type { Site } from "./places.js";
import type { PartName, ProposedBorehole } from "./plan.js";

/** A hole that moves no further than this is the same hole, m. */
const SAME_M = 30;

export interface Tried {
  readonly sites: readonly Site[];
  readonly start: (factors?: Reweighing) => Settled;
  readonly used: SitingOptions;
}

/** For each hole, in how many plans it stays when one weight is halved or doubled. */
export function keptCounts(
  { sites, start, used }: Tried,
  picked: readonly number[],
): readonly Pick<ProposedBorehole, "keptIn" | "plansTried">[] {
  const parts = (Object.keys(used.weights) as PartName[]).filter((part) => used.weights[part] > 0);
  const plans = parts.flatMap((part) =>
    [0.5, 2].map((factor) => {
      const choice = choiceOf(sites, () => start({ [part]: factor }));
      return greedyChoice(choice, used).picked.map((i) => itemAt(sites, i));
    }),
  );
  return picked.map((i) => ({
    keptIn: plans.filter((plan) => plan.some((other) => isSame(itemAt(sites, i), other))).length,
    plansTried: plans.length,
  }));
}

type Placed = Pick<Site, "chainage_m" | "place">;

/** Whether two plans hold a hole at the same place. */
export const isSame = (one: Placed, other: Placed) =>
  one.place === other.place && Math.abs(one.chainage_m - other.chainage_m) <= SAME_M;
