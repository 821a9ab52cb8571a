import type { PlanTarget } from "./plan.js";

/** The target in words. */
export function targetText(target: PlanTarget): string {
  if (target.kind === "boundary") return "the boundary";
  return (
    `a lens ${target.length_m} m long at ${target.top_m}–${target.base_m} m with ` +
    `${target.conductivityRatio} times the conductivity`
  );
}

/** "of 0.36"; near the ends, the side of the limit. */
export function probabilityText(probability: number): string {
  if (probability > 0.995) return "over 0.99";
  return probability < 0.005 ? "under 0.01" : `of ${probability.toFixed(2)}`;
}
