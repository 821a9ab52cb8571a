import type { LinePlan, LineTarget } from "./line-plan.js";

export function lineTargetText({ length_m, top_m, base_m, resistivityRatio }: LineTarget): string {
  return (
    `a body ${length_m} m long at ${top_m}–${base_m} m with ${resistivityRatio} times the ` +
    "resistivity"
  );
}

/** The plan's finding. */
export function recoveredText({ best, electrodes, spacing_m }: LinePlan): string {
  return (
    `${best.array} on ${electrodes} electrodes every ${spacing_m} m recovers the body in ` +
    `${best.recovered} of ${best.trials} trials`
  );
}
