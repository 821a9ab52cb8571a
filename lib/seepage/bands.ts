import type { SeepageOptions } from "./options.js";
import type { SeepageBand } from "./seepage.js";

/** The band that a probability falls into. */
export function bandOf(probability: number, { bands }: Pick<SeepageOptions, "bands">): SeepageBand {
  if (probability >= bands.high) return "high";
  return probability >= bands.moderate ? "moderate" : "low";
}

/** Log-odds of a probability. */
export function logit(p: number): number {
  return Math.log(p / (1 - p));
}

/** Probability of log-odds. */
export function probabilityOf(score: number): number {
  return 1 / (1 + Math.exp(-score));
}
