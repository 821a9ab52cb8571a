import type { SegmentCosts } from "./segment-cost.js";

const SHORTEST = 4;
/** How often a bound over a block of ends is halved before it is given up. */
const PATIENCE = 3;

/** A start that an earlier one may beat at every end to come. */
interface Rivalry {
  readonly start: number;
  /** The earlier start. */
  readonly rival: number;
  /** Best total before `start` − that before `rival` − squares about the mean between them. */
  readonly lead: number;
}

/**
 * Bounds on what a break gains, over blocks of ends, from the samples that are still to come.
 *
 * A segment rival … T costs as much as rival … start and start … T together and the gain
 * G = n₁ n₂ / (n₁ + n₂) (m₁ − m₂)² of a break between them. As long as G stays below the price of
 * that break at every T that is left, no best segmentation has a segment from `start` on. With
 * U(T) = Σ (x − m₁) from start to T, G = n₁ / (n₁ + n₂) × U² / n₂. Over a block of ends, U lies
 * within the chord between the block's ends and how far the running total departs from its own
 * chord, which is known in advance for blocks of 4, 8, 16, … samples.
 */
export class FutureBounds {
  private readonly levels: readonly DepartureLevel[];
  private readonly mean: Float64Array;

  constructor(private readonly costs: SegmentCosts) {
    this.mean = new Float64Array(costs.columns);
    const levels: DepartureLevel[] = [];
    for (let length = SHORTEST; 4 * length <= costs.samples; length *= 2) {
      levels.push(departures(costs, length));
    }
    this.levels = levels;
  }

  /** The end from which on, to `last`, the rival is never worse; `from` where it never is. */
  beatenFrom(pair: Rivalry, from: number, last: number): number {
    this.setMean(pair);
    const limit = pair.lead - 1e-7 * (1 + Math.abs(pair.lead));
    const { samples } = this.costs;
    const highest = this.levels.length - 1;
    let end = last + 1;
    let cap = highest;
    let failures = 0;
    while (end > from) {
      // The longest block that ends here, lies within the range and is short against its distance.
      let level = end > samples ? -1 : cap;
      for (; level >= 0; level--) {
        const { length } = this.levels[level]!;
        const begin = end - length;
        if (end % length === 0 && begin >= from && length <= begin - pair.start) break;
      }
      const begin = level < 0 ? end - 1 : end - this.levels[level]!.length;
      if (this.greatest(pair, begin, level) <= limit) {
        end = begin;
        cap = Math.min(cap + 1, highest);
        failures = 0;
      } else {
        if (level < 0 || ++failures > PATIENCE) return end;
        cap = level - 1;
      }
    }
    return from;
  }

  private setMean({ start, rival }: Rivalry): void {
    const { columns: d, sum, weight, whole } = this.costs;
    for (let c = 0; c < d; c++) {
      const n = whole ? start - rival : weight[start * d + c]! - weight[rival * d + c]!;
      this.mean[c] = n > 0 ? (sum[start * d + c]! - sum[rival * d + c]!) / n : 0;
    }
  }

  /** At least the gain less the length terms, for every end of the block (or the one end). */
  private greatest({ start, rival }: Rivalry, begin: number, level: number): number {
    const { columns: d, sum, weight, count, whole, lengthWeight, log } = this.costs;
    const block = level < 0 ? null : this.levels[level]!;
    const end = block === null ? begin : begin + block.length;
    const row = block === null ? 0 : (begin / block.length) * d;
    let total = 0;
    for (let c = 0; c < d; c++) {
      const r = rival * d + c;
      const s = start * d + c;
      const b = begin * d + c;
      const n1 = whole ? start - rival : weight[s]! - weight[r]!;
      if (!(n1 > 0)) continue;
      const n2 = whole ? begin - start : weight[b]! - weight[s]!;
      const k1 = whole ? n1 : count[s]! - count[r]!;
      const k2 = whole ? n2 : count[b]! - count[s]!;
      total -= lengthWeight * (log[k2]! - log[k1 + k2]!);
      if (!(n2 > 0)) {
        if (block !== null) return Number.POSITIVE_INFINITY;
        continue;
      }
      const first = sum[b]! - sum[s]! - this.mean[c]! * n2;
      let far = Math.abs(first);
      if (block !== null) {
        const e = end * d + c;
        const n3 = whole ? end - start : weight[e]! - weight[s]!;
        const other = sum[e]! - sum[s]! - this.mean[c]! * n3;
        const high = (first > other ? first : other) + block.high[row + c]!;
        const low = (first > other ? other : first) + block.low[row + c]!;
        far = high > -low ? high : -low;
      }
      total += ((n1 / (n1 + n2)) * far * far) / n2;
    }
    return total;
  }
}

/** For each block of one length and each column, how far the running total leaves its chord. */
interface DepartureLevel {
  readonly length: number;
  readonly low: Float64Array;
  readonly high: Float64Array;
}

function departures(costs: SegmentCosts, length: number): DepartureLevel {
  const { samples, columns: d, sum, weight, whole } = costs;
  const blocks = Math.floor(samples / length);
  const low = new Float64Array(blocks * d);
  const high = new Float64Array(blocks * d);
  for (let block = 0; block < blocks; block++) {
    for (let c = 0; c < d; c++) {
      const first = block * length * d + c;
      const last = first + length * d;
      const span = whole ? length : weight[last]! - weight[first]!;
      const slope = span > 0 ? (sum[last]! - sum[first]!) / span : 0;
      let least = 0;
      let most = 0;
      for (let at = first + d, i = 1; at < last; at += d, i++) {
        const passed = whole ? i : weight[at]! - weight[first]!;
        const off = sum[at]! - sum[first]! - slope * passed;
        if (off < least) least = off;
        if (off > most) most = off;
      }
      low[block * d + c] = least;
      high[block * d + c] = most;
    }
  }
  return { length, low, high };
}
