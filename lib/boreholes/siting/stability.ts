import { itemAt } from "../../numerics/arrays.js";
import { choiceOf, settledBy, type Weighing } from "./gain.js";
import { greedyChoice } from "./greedy.js";
import type { SitingOptions } from "./options.js";
import type { Site } from "./places.js";
import type { PartName, ProposedBorehole } from "./plan.js";

/** A hole that moves no further than this is the same hole, m. */
const SAME_M = 30;

export interface Tried {
  readonly sites: readonly Site[];
  readonly weighing: Weighing;
  readonly drilled: readonly Site[];
  readonly used: SitingOptions;
}

/** For each hole, in how many plans it stays when one weight is halved or doubled. */
export function keptCounts(
  { sites, weighing, drilled, used }: Tried,
  picked: readonly number[],
): readonly Pick<ProposedBorehole, "keptIn" | "plansTried">[] {
  const parts = (Object.keys(used.weights) as PartName[]).filter((part) => used.weights[part] > 0);
  const plans = parts.flatMap((part) =>
    [0.5, 2].map((factor) => {
      const start = settledBy(sites, reweighed(weighing, part, factor), drilled);
      return greedyChoice(choiceOf(sites, start), used).picked.map((i) => itemAt(sites, i));
    }),
  );
  return picked.map((i) => ({
    keptIn: plans.filter((plan) => plan.some((other) => isSame(itemAt(sites, i), other))).length,
    plansTried: plans.length,
  }));
}

function reweighed({ targets, cells }: Weighing, part: PartName, factor: number): Weighing {
  const worth_m = cells.worth_m.map((worth) => (part === "soil" ? factor * worth : worth));
  return {
    targets: targets.map((target) =>
      target.part === part ? { ...target, worth_m: factor * target.worth_m } : target,
    ),
    cells: { ...cells, worth_m },
  };
}

type Placed = Pick<Site, "chainage_m" | "place">;

/** Whether two plans hold a hole at the same place. */
export const isSame = (one: Placed, other: Placed) =>
  one.place === other.place && Math.abs(one.chainage_m - other.chainage_m) <= SAME_M;
