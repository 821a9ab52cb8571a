import { normalPoint, normalTail } from "../../numerics/statistics/normal.js";
import type { PlanOptions } from "../options.js";
import type { PlanGround } from "../scene/plan-ground.js";
import { onlyChannels, sceneAt } from "../scene/target-scene.js";
import { matchedFilter } from "./matched-filter.js";
import { testDeviation } from "./test-deviation.js";

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
    const seen =
      detectability === 0
        ? used.falseAlarm
        : normalTail((threshold - detectability) / testDeviation(scene, weights));
    probability += seen / PHASES.length;
  }
  return { detectability: Math.sqrt(squares), probability };
}
