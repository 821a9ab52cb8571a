import { normalTail } from "../../numerics/normal.js";
import type { PlanOptions } from "../options.js";
import { onlyChannels, type PlanGround, sceneAt } from "../scene/plan-ground.js";
import { matchedFilter, testDeviation } from "./matched-filter.js";

/** Where the target may fall between two readings, in spacings. */
const PHASES = [0, 0.25, 0.5, 0.75];

export interface DetectionProbability {
  /** Root mean square over the phases. */
  readonly detectability: number;
  /** Mean over the phases. */
  readonly probability: number;
}

/** How well some channels, all by default, see the target. */
export function detectionProbability(
  ground: PlanGround,
  used: PlanOptions,
  kept?: readonly number[],
): DetectionProbability {
  const threshold = normalPoint(used.falseAlarm);
  let [squares, probability] = [0, 0];
  for (const phase of PHASES) {
    const whole = sceneAt(ground, used, phase);
    const scene = kept ? onlyChannels(whole, kept) : whole;
    const { detectability, weights } = matchedFilter(scene);
    squares += detectability ** 2 / PHASES.length;
    if (detectability === 0) {
      probability += used.falseAlarm / PHASES.length;
      continue;
    }
    const spread = testDeviation(scene, weights);
    probability += normalTail((threshold - detectability) / spread) / PHASES.length;
  }
  return { detectability: Math.sqrt(squares), probability };
}

/** z with P(Z > z) = tail, by bisection to the last digits. */
export function normalPoint(tail: number): number {
  let [low, high] = [-40, 40];
  for (let round = 0; round < 100; round++) {
    const middle = (low + high) / 2;
    if (normalTail(middle) > tail) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
