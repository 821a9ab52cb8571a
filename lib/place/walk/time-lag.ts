import { entryOf, itemAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/robust.js";
import type { Channel } from "../../survey/survey.js";
import { fittedParabola } from "../coregister/block-likelihoods.js";
import { eachBetween, GRID_M, highPass, sharedChannels } from "../coregister/even-grid.js";
import { type Leg, legsOf } from "./legs.js";
import { type Course, coordinateBefore, courseOf } from "./shift-in-time.js";

/** What the lag is looked for in. */
export interface LagPass {
  readonly clock_s: Float64Array;
  readonly chainage_m: Float64Array;
  readonly line: readonly string[];
  readonly channels: readonly Channel[];
  readonly values: readonly Float64Array[];
}

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
const LEAST_OVERLAP_M = 50;

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
export function estimateLag(passes: readonly LagPass[]): LagEstimate | null {
  const walks = passes.map((pass) => ({ pass, course: courseOf(pass.clock_s, pass.chainage_m) }));
  const legs = walks.flatMap(({ pass, course }) =>
    legsOf(pass.chainage_m, pass.line).map((leg) => ({ pass, course, leg })),
  );
  const pairs = legs.flatMap((one, i) => legs.slice(i + 1).flatMap((other) => pairOf(one, other)));
  if (pairs.length === 0) return null;
  const overlap_m = pairs.reduce((sum, pair) => sum + pair.to_m - pair.from_m, 0);
  const correlationAt = (lag_s: number) => {
    const places = walks.map(
      ({ pass, course }) => [pass, coordinateBefore(course, pass.chainage_m, lag_s)] as const,
    );
    const at = new Map(places);
    const parts = pairs.map((pair) => (pair.to_m - pair.from_m) * pairCorrelation(pair, at));
    return parts.reduce((total, part) => total + part, 0) / overlap_m;
  };
  const best = bestLag(correlationAt);
  return best && { ...best, overlap_m };
}

interface WalkedLeg {
  readonly pass: LagPass;
  readonly course: Course;
  readonly leg: Leg;
}

interface LegPair {
  readonly one: WalkedLeg;
  readonly other: WalkedLeg;
  readonly from_m: number;
  readonly to_m: number;
  /** Indices of the channels compared. */
  readonly channels: readonly (readonly [number, number])[];
}

function pairOf(one: WalkedLeg, other: WalkedLeg): readonly LegPair[] {
  if (one.leg.way === other.leg.way) return [];
  const low = ({ leg }: WalkedLeg) => Math.min(leg.from_m, leg.to_m);
  const high = ({ leg }: WalkedLeg) => Math.max(leg.from_m, leg.to_m);
  const from_m = Math.max(low(one), low(other));
  const to_m = Math.min(high(one), high(other));
  const channels = sharedChannels(one.pass.channels, other.pass.channels);
  if (!(to_m - from_m >= LEAST_OVERLAP_M) || channels.length === 0) return [];
  return [{ one, other, from_m, to_m, channels }];
}

/** Mean over the channels; `at` has the shifted places of each pass, one for each of its course's rows. */
function pairCorrelation(pair: LegPair, at: ReadonlyMap<LagPass, Float64Array>): number {
  const profile = (walked: WalkedLeg, channel: number) =>
    highPass(onGrid(walked, itemAt(walked.pass.values, channel), { pair, at }));
  const all = pair.channels.map(([i, j]) =>
    correlationOf(profile(pair.one, i), profile(pair.other, j)),
  );
  const known = all.filter((one) => !Number.isNaN(one));
  return known.length === 0 ? 0 : known.reduce((sum, one) => sum + one, 0) / known.length;
}

interface Gridding {
  readonly pair: LegPair;
  readonly at: ReadonlyMap<LagPass, Float64Array>;
}

/** A leg's values on an even grid of the pair's stretch. */
function onGrid({ pass, course, leg }: WalkedLeg, values: Float64Array, { pair, at }: Gridding) {
  const places = entryOf(at, pass);
  const n = Math.floor((pair.to_m - pair.from_m) / GRID_M) + 1;
  const grid = new Float64Array(n).fill(Number.NaN);
  let [place, value] = [Number.NaN, Number.NaN];
  for (const [k, row] of course.rows.entries()) {
    if (row < leg.first || row > leg.last || Number.isNaN(values[row]!)) continue;
    const ahead_m = (places[k]! - place) * leg.way;
    if (ahead_m <= 0) continue;
    if (ahead_m < 10 * GRID_M) {
      const cell = (x: number) => (x - pair.from_m) / GRID_M;
      eachBetween([cell(place), value], [cell(places[k]!), values[row]!], (g, between) => {
        if (g >= 0 && g < n) grid[g] = between;
      });
    }
    [place, value] = [places[k]!, values[row]!];
  }
  return grid;
}

/** Correlation about 0; NaN where too few cells have both. */
function correlationOf(a: Float64Array, b: Float64Array): number {
  let [ab, aa, bb, n] = [0, 0, 0, 0];
  for (let g = 0; g < a.length; g++) {
    if (Number.isNaN(a[g]! + b[g]!)) continue;
    ab += a[g]! * b[g]!;
    aa += a[g]! * a[g]!;
    bb += b[g]! * b[g]!;
    n += 1;
  }
  return n * GRID_M >= LEAST_OVERLAP_M / 2 && aa > 0 && bb > 0
    ? ab / Math.sqrt(aa * bb)
    : Number.NaN;
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
