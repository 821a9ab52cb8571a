import { madScale, median } from "../../numerics/robust.js";
import type { Channel } from "../../survey/survey.js";
import { eachBetween, GRID_M, sharedChannels, withoutSlowPart } from "../coregister/even-grid.js";
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
  /** Likeness of the passes at that lag: a mean correlation coefficient. */
  readonly likeness: number;
  /** Metres of bank walked both ways that took part. */
  readonly overlap_m: number;
}

const WINDOW_M = 30;
const SEARCH_S = 5;
const COARSE_STEP_S = 0.5;
const STEP_S = 0.1;
/** Below this likeness, or above it by so little, two passes do not tell a lag. */
const LEAST_LIKENESS = 0.3;
const LEAST_GAIN = 0.03;
const LEAST_OVERLAP_M = 50;

/**
 * The time by which readings are late, from stretches walked in opposite directions: the lag at which
 * their readings, brought to the places of `lag_s` before, are most alike. The likeness is the mean
 * correlation over channels of one kind, frequency and spacing, after the mean over 30 m is taken off
 * and what is far out is cut to 4 robust standard deviations; of the same orientation where there is
 * one, else of another.
 *
 * Null where no 50 m were walked both ways, where the likeness stays under 0.3, or where it hardly
 * changes with the lag. At a steady pace a lag and an antenna ahead cannot be told apart. Source:
 * common practice; the best lag is that of a parabola through the highest values.
 */
export function estimateLag(passes: readonly LagPass[]): LagEstimate | null {
  const walks = passes.map((pass) => ({ pass, course: courseOf(pass.clock_s, pass.chainage_m) }));
  const legs = walks.flatMap(({ pass, course }) =>
    legsOf(pass.chainage_m, pass.line).map((leg) => ({ pass, course, leg })),
  );
  const pairs = legs.flatMap((one, i) => legs.slice(i + 1).flatMap((other) => pairOf(one, other)));
  if (pairs.length === 0) return null;
  const overlap_m = pairs.reduce((sum, pair) => sum + pair.to_m - pair.from_m, 0);
  const likenessAt = (lag_s: number) => {
    const places = walks.map(
      ({ pass, course }) => [pass, coordinateBefore(course, pass.chainage_m, lag_s)] as const,
    );
    const at = new Map(places);
    const parts = pairs.map((pair) => (pair.to_m - pair.from_m) * likenessOf(pair, at));
    return parts.reduce((total, part) => total + part, 0) / overlap_m;
  };
  return bestLag(likenessAt, overlap_m);
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

function likenessOf(pair: LegPair, at: ReadonlyMap<LagPass, Float64Array>): number {
  const scores = pair.channels.map(([i, j]) => {
    const a = prepared(pair.one, i, { pair, at });
    const b = prepared(pair.other, j, { pair, at });
    return correlation(a, b);
  });
  const known = scores.filter((score) => !Number.isNaN(score));
  return known.length === 0 ? 0 : known.reduce((sum, score) => sum + score, 0) / known.length;
}

interface Shifted {
  readonly pair: LegPair;
  readonly at: ReadonlyMap<LagPass, Float64Array>;
}

/** A leg's values on an even grid of the pair's stretch, its slow part taken off and clipped. */
function prepared(walked: WalkedLeg, channel: number, { pair, at }: Shifted): Float64Array {
  const grid = onGrid(walked, channel, { pair, at });
  const rough = withoutSlowPart(grid, Math.round(WINDOW_M / 2 / GRID_M));
  const most = 4 * madScale(rough);
  return rough.map((value) => Math.max(-most, Math.min(most, value)));
}

function onGrid({ pass, course, leg }: WalkedLeg, channel: number, { pair, at }: Shifted) {
  const places = at.get(pass)!;
  const values = pass.values[channel]!;
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

function correlation(a: Float64Array, b: Float64Array): number {
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
function bestLag(likenessAt: (lag_s: number) => number, overlap_m: number): LagEstimate | null {
  const coarse = stepsAbout(0, SEARCH_S, COARSE_STEP_S);
  const rough = coarse.map(likenessAt);
  const near = rough.indexOf(Math.max(...rough));
  if (near === 0 || near === coarse.length - 1) return null;
  const lags = stepsAbout(coarse[near]!, 2 * COARSE_STEP_S, STEP_S);
  const likeness = lags.map(likenessAt);
  const best = likeness.indexOf(Math.max(...likeness));
  const gain = likeness[best]! - median(rough);
  if (!(likeness[best]! >= LEAST_LIKENESS && gain >= LEAST_GAIN)) return null;
  const lag_s = lags[best]! + STEP_S * vertexOffset(likeness, best);
  return { lag_s, likeness: likeness[best]!, overlap_m };
}

function stepsAbout(middle: number, reach: number, step: number): readonly number[] {
  const count = Math.round(reach / step);
  return Array.from({ length: 2 * count + 1 }, (_, k) => middle + (k - count) * step);
}

/** The vertex of the parabola through the values within half a second of the highest, in steps. */
function vertexOffset(values: readonly number[], best: number): number {
  const half = Math.min(5, best, values.length - 1 - best);
  let [s2, s4, y0, y1, y2, n] = [0, 0, 0, 0, 0, 0];
  for (let d = -half; d <= half; d++) {
    const y = values[best + d]!;
    [s2, s4, y0, y1, y2, n] = [s2 + d * d, s4 + d ** 4, y0 + y, y1 + d * y, y2 + d * d * y, n + 1];
  }
  const curve = (y2 - (s2 * y0) / n) / (s4 - (s2 * s2) / n);
  const slope = y1 / s2;
  return curve < 0 ? Math.max(-half, Math.min(half, -slope / (2 * curve))) : 0;
}
