import { FutureBounds } from "./future-bounds.js";
import { longestSegments } from "./longest-segments.js";
import { type SegmentCosts, segmentCost, splitBound } from "./segment-cost.js";

interface Segmentation {
  /** Index of the first sample of each later segment, rising. */
  readonly breaks: number[];
  /** Sum of the segments' costs + the price of a break × the number of breaks. */
  readonly total: number;
}

/** Shorter rows are searched faster than the bounds on their future are worked out. */
const LONG = 64;

/**
 * The segmentation with the least sum of segment costs and break prices, exactly.
 *
 * Optimal partitioning (Jackson et al. 2005). Starts that can begin no later segment of a best
 * segmentation are dropped in two ways: by inequality (Killick et al. 2012) once a later start
 * beats them, and by the bounds of `FutureBounds` once an earlier start beats them at every end
 * that is still to come. The first clears the starts before a break, the second those where there
 * is none. A start that is beaten at sample t by a segment from t onward is dropped only from
 * t + minLength on: before that, the segment that beats it would be too short to be allowed.
 */
export function bestSegmentation(
  costs: SegmentCosts,
  pricePerBreak: number,
  minLength: number,
): Segmentation {
  const n = costs.samples;
  const best = new Float64Array(n + 1).fill(Number.POSITIVE_INFINITY);
  const start = new Int32Array(n + 1);
  best[0] = -pricePerBreak;
  const candidates = new Candidates(costs, { best, start, pricePerBreak, minLength });
  for (let t = Math.min(minLength, n); t <= n; t++) {
    const opening = Math.max(0, t - minLength);
    if (best[opening]! < Number.POSITIVE_INFINITY) candidates.add(opening, t);
    const total = candidates.cheapest(t);
    best[t] = total + pricePerBreak;
    start[t] = candidates.chosen;
    candidates.prune(t);
  }
  return { breaks: traced(start, n), total: best[n]! };
}

interface Search {
  /** Least total before each sample, with the price of a break there. */
  readonly best: Float64Array;
  /** Start of the last segment of that total. */
  readonly start: Int32Array;
  readonly pricePerBreak: number;
  readonly minLength: number;
}

/** The segment starts that may still begin the last segment of a best segmentation, rising. */
class Candidates {
  chosen = 0;
  private readonly starts: Int32Array;
  private readonly value: Float64Array;
  /** The sample from which a start is out, by start; beyond the end where it is in for good. */
  private readonly outFrom: Int32Array;
  /** When an earlier start is next tried against this one, by start. */
  private readonly retryAt: Int32Array;
  private readonly future: FutureBounds | null;
  private readonly last: Int32Array;
  private size = 0;

  constructor(
    private readonly costs: SegmentCosts,
    private readonly search: Search,
  ) {
    const n = costs.samples;
    this.starts = new Int32Array(n + 1);
    this.value = new Float64Array(n + 1);
    this.outFrom = new Int32Array(n + 1).fill(n + 1);
    this.retryAt = new Int32Array(n + 1);
    const bounded = costs.change === "mean" && n >= LONG;
    this.future = bounded ? new FutureBounds(costs) : null;
    this.last = bounded
      ? longestSegments(costs, search.pricePerBreak, search.minLength)
      : new Int32Array(0);
  }

  add(start: number, t: number): void {
    if (this.future !== null) {
      if (this.last[start]! < t) return;
      this.outFrom[start] = this.last[start]! + 1;
    }
    if (start > 0 && this.future !== null) {
      this.tryAgainst(this.search.start[start]!, start, t);
      if (this.outFrom[start]! <= t) return;
    }
    this.starts[this.size++] = start;
  }

  /** Among equals the earliest start wins, so a break within a gap stands at the gap's start. */
  cheapest(t: number): number {
    const { costs } = this;
    const { best } = this.search;
    if (costs.whole && costs.change === "mean") return this.cheapestWhole(t);
    let least = Number.POSITIVE_INFINITY;
    for (let j = 0; j < this.size; j++) {
      const from = this.starts[j]!;
      const value = best[from]! + segmentCost(costs, from, t);
      this.value[j] = value;
      if (value < least) {
        least = value;
        this.chosen = from;
      }
    }
    return least;
  }

  /** The same for rows without gaps, written out because nearly all the time goes here. */
  private cheapestWhole(t: number): number {
    const { columns: d, sum, rowSquare, lengthWeight, log } = this.costs;
    const { starts, value, size } = this;
    const { best } = this.search;
    const here = t * d;
    const square = rowSquare[t]!;
    const weight = lengthWeight * d;
    let least = Number.POSITIVE_INFINITY;
    for (let j = 0; j < size; j++) {
      const from = starts[j]!;
      let between = 0;
      for (let a = from * d, b = here, stop = here + d; b < stop; a++, b++) {
        const mass = sum[b]! - sum[a]!;
        between += mass * mass;
      }
      let cost = square - rowSquare[from]! - between / (t - from);
      if (!(cost > 0)) cost = 0;
      cost += best[from]! + weight * log[t - from]!;
      value[j] = cost;
      if (cost < least) {
        least = cost;
        this.chosen = from;
      }
    }
    return least;
  }

  prune(t: number): void {
    const { best, minLength } = this.search;
    // A margin well above rounding and far below any difference that matters.
    const limit = best[t]! + 1e-9 * (1 + Math.abs(best[t]!));
    let kept = 0;
    for (let j = 0; j < this.size; j++) {
      const from = this.starts[j]!;
      if (this.value[j]! > limit && this.value[j]! + splitBound(this.costs, from, t) > limit) {
        this.outFrom[from] = Math.min(this.outFrom[from]!, t + minLength);
      } else if (this.future !== null && t >= this.retryAt[from]! && this.chosen < from) {
        this.tryAgainst(this.chosen, from, t + 1);
      }
      if (this.outFrom[from]! > t + 1) this.starts[kept++] = from;
    }
    this.size = kept;
  }

  /** Tried again when the start has doubled its distance: fewer ends are then left. */
  private tryAgainst(rival: number, start: number, from: number): void {
    const { best } = this.search;
    const { lengthWeight } = this.costs;
    let lead = best[start]! - best[rival]! - segmentCost(this.costs, rival, start);
    if (lengthWeight !== 0) lead += lengthWeight * logCounts(this.costs, rival, start);
    const last = this.last[start]!;
    const beaten = this.future!.beatenFrom({ start, rival, lead }, from, last);
    this.outFrom[start] = Math.min(this.outFrom[start]!, beaten);
    this.retryAt[start] = from + Math.max(4, (from - start) >> 1);
  }
}

function logCounts(costs: SegmentCosts, from: number, to: number): number {
  const { columns: d, count, log, whole } = costs;
  if (whole) return d * log[to - from]!;
  let total = 0;
  for (let c = 0; c < d; c++) total += log[count[to * d + c]! - count[from * d + c]!]!;
  return total;
}

function traced(start: Int32Array, n: number): number[] {
  const breaks: number[] = [];
  for (let t = start[n]!; t > 0; t = start[t]!) breaks.push(t);
  return breaks.reverse();
}
