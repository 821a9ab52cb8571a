import { valueAt, zipped } from "../../numerics/arrays.js";
import type { Centreline } from "../centreline.js";
import { type Candidate, candidatesAt } from "./chainage-candidates.js";

/** Points in the order they were walked, in the centreline's projected coordinates. */
export interface WalkedPoints {
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
export function stationing(centreline: Centreline, points: WalkedPoints): Stationing {
  const n = points.easting_m.length;
  const result = {
    chainage_m: new Float64Array(n).fill(Number.NaN),
    offset_m: new Float64Array(n).fill(Number.NaN),
  };
  for (const walk of walks(points)) {
    for (const [i, candidate] of zipped(walk, bestPath(centreline, points, walk))) {
      result.chainage_m[i] = candidate.chainage_m;
      result.offset_m[i] = candidate.offset_m;
    }
  }
  return result;
}

/** Indices of the points with a position, walk by walk. */
function walks({ easting_m, northing_m, line }: WalkedPoints): readonly (readonly number[])[] {
  const found: number[][] = [];
  let open: number[] = [];
  for (const [i, east_m] of easting_m.entries()) {
    if (line?.[i] !== line?.[i - 1]) {
      found.push(open);
      open = [];
    }
    if (Number.isFinite(east_m + valueAt(northing_m, i))) open.push(i);
  }
  return [...found, open];
}

/** A candidate, the cost of the cheapest path to it, and the step before on that path. */
interface PathStep {
  readonly candidate: Candidate;
  readonly cost: number;
  readonly before: PathStep | null;
}

/** The shortest path through the candidates of a walk's points. */
function bestPath(
  centreline: Centreline,
  { easting_m: x, northing_m: y }: WalkedPoints,
  walk: readonly number[],
): readonly Candidate[] {
  let [steps, last]: [readonly PathStep[], number] = [[], -1];
  for (const i of walk) {
    const moved_m = Math.hypot(x[i]! - x[last]!, y[i]! - y[last]!);
    const candidates = candidatesAt(centreline, x[i]!, y[i]!);
    steps = candidates.map((candidate) => cheapestStep(candidate, steps, moved_m));
    // All paths go through a single candidate: what they cost so far no longer matters.
    if (steps.length === 1) steps = steps.map((only) => ({ ...only, cost: 0 }));
    last = i;
  }
  const least = Math.min(...steps.map(({ cost }) => cost));
  const path: Candidate[] = [];
  for (let step = steps.find(({ cost }) => cost === least) ?? null; step; step = step.before) {
    path.push(step.candidate);
  }
  return path.reverse();
}

function cheapestStep(
  candidate: Candidate,
  earlier: readonly PathStep[],
  moved_m: number,
): PathStep {
  let [before, least]: [PathStep | null, number] = [null, Number.POSITIVE_INFINITY];
  for (const step of earlier) {
    const total = step.cost + jumpCost(step.candidate, candidate, moved_m);
    if (total < least) [before, least] = [step, total];
  }
  return { candidate, cost: (before ? least : 0) + offsetCost(candidate), before };
}

function offsetCost({ distance_m }: Candidate): number {
  return distance_m ** 2 / (2 * OFFSET_SCALE_M ** 2);
}

function jumpCost(from: Candidate, to: Candidate, moved_m: number): number {
  const excess_m = Math.abs(to.chainage_m - from.chainage_m) - 1.5 * moved_m - SLACK_M;
  return Math.min(LARGEST_JUMP_COST, Math.max(0, excess_m) / JUMP_M);
}
