import { detectionProbability } from "../detection/detection-probability.js";
import type { PlanOptions } from "../options.js";
import type { PlannedPart } from "../plan.js";
import type { PlanGround } from "../scene/plan-ground.js";

/** What some channels add to the others, by their places in the instrument. */
export interface PartWorth {
  /** Share of the squared detectability that is lost where they are left out. */
  readonly lostWithout: (gone: readonly number[]) => number;
  readonly of: (own: readonly number[]) => PlannedPart;
}

export function partWorth(ground: PlanGround, used: PlanOptions): PartWorth {
  const all = detectionProbability(ground, used).detectability;
  const lostWithout = (gone: readonly number[]) => {
    const kept = [...ground.below.keys()].filter((at) => !gone.includes(at));
    if (kept.length === 0) return 1;
    return Math.max(0, 1 - (detectionProbability(ground, used, kept).detectability / all) ** 2);
  };
  const of = (own: readonly number[]) => {
    const lost = lostWithout(own);
    const alone = detectionProbability(ground, used, own).probability;
    return { alone, lost, addsNothing: lost < used.addsNothing };
  };
  return { lostWithout, of };
}
