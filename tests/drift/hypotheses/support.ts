import type { DriftDatum } from "../../../lib/drift/checks/drift-datum.js";
import type { StepTimes } from "../../../lib/drift/hypotheses/step-sets.js";
import { seededRandom } from "../../../lib/numerics/random.js";

export const NO_STEPS: StepTimes = { possible_s: [], declared_s: [] };
const visits_h = [0, 0.3, 0.6, 0.9, 1.2, 1.3, 1.6, 1.9, 2.2, 2.5];

/** One datum a visit, error 3. */
export function dataOf(seed: number, drift: (hour: number) => number, scatter = 0) {
  const random = seededRandom(seed);
  return visits_h.map((hour): DriftDatum => {
    const value = drift(hour) + Math.hypot(3, scatter) * random.normal();
    return { time_s: 3600 * hour, minus_s: Number.NaN, value, error: 3 };
  });
}

export const seeds = Array.from({ length: 40 }, (_, i) => i + 1);
/** Steps of two channels within this are one event, s. */
export const WITHIN_S = 450;
