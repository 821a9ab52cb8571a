import { type SegmentCosts, segmentCost, splitBound } from "./segment-cost.js";

export interface Segmentation {
  /** Index of the first sample of each later segment, rising. */
  readonly breaks: number[];
  /** Sum of the segments' costs + the price of a break × the number of breaks. */
  readonly total: number;
}

/**
 * The segmentation with the least sum of segment costs and break prices, exactly.
 *
 * Optimal partitioning (Jackson et al. 2005) with inequality pruning (Killick et al. 2012). A start
 * that is beaten at sample t is dropped only from t + minLength on: before that, the segment from
 * t onward that beats it would be too short to be allowed.
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
  const candidates = new Candidates(n);
  for (let t = Math.min(minLength, n); t <= n; t++) {
    const opening = Math.max(0, t - minLength);
    if (best[opening]! < Number.POSITIVE_INFINITY) candidates.add(opening);
    const total = candidates.cheapest(costs, best, t);
    best[t] = total + pricePerBreak;
    start[t] = candidates.chosen;
    candidates.prune(costs, best, { at: t, minLength });
  }
  return { breaks: traced(start, n), total: best[n]! };
}

/** The segment starts that may still begin the last segment of a best segmentation. */
class Candidates {
  chosen = 0;
  private readonly start: Int32Array;
  private readonly value: Float64Array;
  /** The sample from which a start is out, by start; beyond the end where it is in for good. */
  private readonly outFrom: Int32Array;
  private size = 0;

  constructor(n: number) {
    this.start = new Int32Array(n + 1);
    this.value = new Float64Array(n + 1);
    this.outFrom = new Int32Array(n + 1).fill(n + 1);
  }

  add(start: number): void {
    this.start[this.size++] = start;
  }

  /** Among equals the earliest start wins, so a break within a gap stands at the gap's start. */
  cheapest(costs: SegmentCosts, best: Float64Array, t: number): number {
    let least = Number.POSITIVE_INFINITY;
    for (let j = 0; j < this.size; j++) {
      const from = this.start[j]!;
      const value = best[from]! + segmentCost(costs, from, t);
      this.value[j] = value;
      if (value < least) {
        least = value;
        this.chosen = from;
      }
    }
    return least;
  }

  prune(costs: SegmentCosts, best: Float64Array, now: { at: number; minLength: number }): void {
    // A margin well above rounding and far below any difference that matters.
    const limit = best[now.at]! + 1e-9 * (1 + Math.abs(best[now.at]!));
    let kept = 0;
    for (let j = 0; j < this.size; j++) {
      const from = this.start[j]!;
      const beaten = this.value[j]! + splitBound(costs, from, now.at) > limit;
      if (beaten) this.outFrom[from] = Math.min(this.outFrom[from]!, now.at + now.minLength);
      if (this.outFrom[from]! > now.at + 1) this.start[kept++] = from;
    }
    this.size = kept;
  }
}

function traced(start: Int32Array, n: number): number[] {
  const breaks: number[] = [];
  for (let t = start[n]!; t > 0; t = start[t]!) breaks.push(t);
  return breaks.reverse();
}
