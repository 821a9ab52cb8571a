import type { Centreline } from "../survey.js";
import { type Candidate, candidatesAt } from "./chainage-candidates.js";

/** Points in the order they were walked, in the centreline's projected coordinates. */
export interface Track {
  /** n positions, m; NaN where there is none. */
  readonly easting_m: Float64Array;
  readonly northing_m: Float64Array;
  /** n names; a new name starts a new walk. Without it the points are one walk. */
  readonly line?: readonly string[];
}

export interface Stationing {
  /** n chainages, m; NaN without a position. */
  readonly chainage_m: Float64Array;
  /** n distances from the centreline, m, positive to the left toward increasing chainage. */
  readonly offset_m: Float64Array;
  /** n distances to the nearest point of the centreline between its ends, m. */
  readonly distance_m: Float64Array;
}

// A reading may sit off its true place on the line by about this much more than its neighbour, m;
// a jump along the line costs one unit for every JUMP_M beyond what the walker moved, up to a cap
// that lets a walk change legs of a hairpin where it really does.
const OFFSET_SCALE_M = 10;
const JUMP_M = 5;
const SLACK_M = 3;
const LARGEST_JUMP_COST = 50;

/**
 * Chainage and offset of walked points: the projections on the centreline that, over a whole walk,
 * are near and move along the line as far as the walker did (shortest path through the candidate
 * projections of all points), so a walk between two legs of a hairpin keeps to its own leg. Beyond
 * the ends the first and last segment go on straight.
 *
 * Missing positions give NaN and do not break a walk. Source: common practice; the shortest path is
 * found by dynamic programming (Viterbi 1967).
 */
export function stationing(centreline: Centreline, track: Track): Stationing {
  const n = track.easting_m.length;
  const result = {
    chainage_m: new Float64Array(n).fill(Number.NaN),
    offset_m: new Float64Array(n).fill(Number.NaN),
    distance_m: new Float64Array(n).fill(Number.NaN),
  };
  for (const walk of walks(track)) {
    const chosen = bestPath(centreline, track, walk);
    for (const [k, candidate] of chosen.entries()) {
      const i = walk[k]!;
      result.chainage_m[i] = candidate.chainage_m;
      result.offset_m[i] = candidate.offset_m;
      result.distance_m[i] = candidate.distance_m;
    }
  }
  return result;
}

/** Indices of the points with a position, walk by walk. */
function walks({ easting_m, northing_m, line }: Track): readonly (readonly number[])[] {
  const found: number[][] = [];
  for (let i = 0; i < easting_m.length; i++) {
    if (i === 0 || (line !== undefined && line[i] !== line[i - 1])) found.push([]);
    if (Number.isFinite(easting_m[i]! + northing_m[i]!)) found.at(-1)!.push(i);
  }
  return found.filter((walk) => walk.length > 0);
}

/**
 * The shortest path. A point with a single candidate settles everything before it, so that a long
 * walk is worked off in pieces.
 */
function bestPath(
  centreline: Centreline,
  { easting_m, northing_m }: Track,
  walk: readonly number[],
): readonly Candidate[] {
  const chosen: Candidate[] = [];
  let options: (readonly Candidate[])[] = [];
  let from: number[][] = [];
  let cost: number[] = [];
  for (const [k, here] of walk.entries()) {
    const later = candidatesAt(centreline, easting_m[here]!, northing_m[here]!);
    if (k === 0) {
      cost = later.map(offsetCost);
    } else {
      const before = walk[k - 1]!;
      const moved_m = Math.hypot(
        easting_m[here]! - easting_m[before]!,
        northing_m[here]! - northing_m[before]!,
      );
      const step = bestStep({ earlier: options.at(-1)!, cost, later, moved_m });
      from.push(step.from);
      cost = step.cost;
    }
    options.push(later);
    if (later.length > 1) continue;
    const path = traceBack(options, from, cost);
    for (const candidate of path.slice(chosen.length > 0 ? 1 : 0)) chosen.push(candidate);
    [options, from, cost] = [[later], [], [0]];
  }
  if (options.length > 1 || chosen.length === 0) {
    const path = traceBack(options, from, cost);
    for (const candidate of path.slice(chosen.length > 0 ? 1 : 0)) chosen.push(candidate);
  }
  return chosen;
}

interface Step {
  readonly earlier: readonly Candidate[];
  readonly cost: readonly number[];
  readonly later: readonly Candidate[];
  readonly moved_m: number;
}

function bestStep({ earlier, cost, later, moved_m }: Step): { cost: number[]; from: number[] } {
  const from = later.map((candidate) => {
    const total = earlier.map((origin, j) => cost[j]! + jumpCost(origin, candidate, moved_m));
    return total.indexOf(Math.min(...total));
  });
  return {
    from,
    cost: later.map((candidate, i) => {
      const j = from[i]!;
      return cost[j]! + jumpCost(earlier[j]!, candidate, moved_m) + offsetCost(candidate);
    }),
  };
}

function traceBack(
  options: readonly (readonly Candidate[])[],
  from: readonly (readonly number[])[],
  cost: readonly number[],
): readonly Candidate[] {
  let j = cost.indexOf(Math.min(...cost));
  const chosen: Candidate[] = [];
  for (let k = options.length - 1; k >= 0; k--) {
    chosen.push(options[k]![j]!);
    if (k > 0) j = from[k - 1]![j]!;
  }
  return chosen.reverse();
}

function offsetCost({ distance_m }: Candidate): number {
  return distance_m ** 2 / (2 * OFFSET_SCALE_M ** 2);
}

function jumpCost(from: Candidate, to: Candidate, moved_m: number): number {
  const excess_m = Math.abs(to.chainage_m - from.chainage_m) - 1.5 * moved_m - SLACK_M;
  return Math.min(LARGEST_JUMP_COST, Math.max(0, excess_m) / JUMP_M);
}
