import { itemAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import { fittedParabola } from "../coregister/block-likelihoods.js";
import { pairCorrelation, pairOf } from "./leg-pairs.js";
import { legsOf } from "./legs.js";
import type { PlacedPass } from "./place-pass.js";
import { coordinateBefore, courseOf } from "./shift-in-time.js";

export interface LagEstimate {
  readonly lag_s: number;
  /** Mean correlation of the passes at that lag. */
  readonly correlation: number;
  /** Metres of bank walked both ways that took part. */
  readonly overlap_m: number;
}

const SEARCH_S = 5;
const COARSE_STEP_S = 0.5;
const STEP_S = 0.1;
/** Below this correlation, or so little above that of other lags, there is no estimate. */
const LEAST_CORRELATION = 0.3;
const LEAST_GAIN = 0.03;

/**
 * The time by which readings are late, from stretches walked in opposite directions: the lag at
 * which their readings, brought to the places of `lag_s` before, have the highest correlation. That
 * is the mean over channels of one kind, frequency and spacing of the high-passed readings, of the
 * same orientation where there is one, else of another.
 *
 * Null where no 50 m were walked both ways, where the correlation stays under 0.3, or where it
 * hardly changes with the lag. At a steady speed a lag and an antenna ahead cannot be separated.
 * Source: common practice; the best lag is that of a parabola through the highest values.
 */
export function estimateLag(passes: readonly PlacedPass[]): LagEstimate | null {
  const walks = passes.map((placed) => ({
    placed,
    course: courseOf(placed.clock_s, placed.chainage_m),
  }));
  const legs = walks.flatMap(({ placed, course }) =>
    legsOf(placed.chainage_m, placed.line).map((leg) => ({ placed, course, leg })),
  );
  const pairs = legs.flatMap((one, i) => legs.slice(i + 1).flatMap((other) => pairOf(one, other)));
  if (pairs.length === 0) return null;
  const overlap_m = pairs.reduce((sum, pair) => sum + pair.to_m - pair.from_m, 0);
  const correlationAt = (lag_s: number) => {
    const places = walks.map(
      ({ placed, course }) => [placed, coordinateBefore(course, placed.chainage_m, lag_s)] as const,
    );
    const at = new Map(places);
    const parts = pairs.map((pair) => (pair.to_m - pair.from_m) * pairCorrelation(pair, at));
    return parts.reduce((total, part) => total + part, 0) / overlap_m;
  };
  const best = bestLag(correlationAt);
  return best && { ...best, overlap_m };
}

/** Looks at every half second first, then finely about the best of these. */
function bestLag(
  correlationAt: (lag_s: number) => number,
): Pick<LagEstimate, "lag_s" | "correlation"> | null {
  const coarse = stepsAbout(0, SEARCH_S, COARSE_STEP_S);
  const rough = coarse.map(correlationAt);
  const near = rough.indexOf(Math.max(...rough));
  if (near === 0 || near === coarse.length - 1) return null;
  const lags = stepsAbout(itemAt(coarse, near), 2 * COARSE_STEP_S, STEP_S);
  const fine = lags.map(correlationAt);
  const correlation = Math.max(...fine);
  if (!(correlation >= LEAST_CORRELATION && correlation - median(rough) >= LEAST_GAIN)) return null;
  const best = fine.indexOf(correlation);
  return { lag_s: itemAt(lags, best) + STEP_S * vertexOffset(fine, best), correlation };
}

function stepsAbout(middle: number, reach: number, step: number): readonly number[] {
  const count = Math.round(reach / step);
  return Array.from({ length: 2 * count + 1 }, (_, k) => middle + (k - count) * step);
}

/** The vertex of the parabola through the values within half a second of the highest, in steps. */
function vertexOffset(values: readonly number[], best: number): number {
  const half = Math.min(5, best, values.length - 1 - best);
  const { slope, second } = fittedParabola(values, best, half);
  return second < 0 ? Math.max(-half, Math.min(half, -slope / second)) : 0;
}
