import { type SegmentCosts, segmentCost, splitBound } from "./segment-cost.js";

/** Weights under e^−40 of what is kept are left out. */
const NEGLIGIBLE = 40;

interface CutSumOptions {
  readonly pricePerBreak: number;
  readonly minLength: number;
  /** Stretches of break positions, first … last; each is counted apart. Default none. */
  readonly windows?: readonly (readonly [number, number])[];
  /** The largest number of breaks that is counted apart; default 0. */
  readonly mostBreaks?: number;
}

export interface CutSum {
  /** n + 1 logarithms: the weights of all cuts of the first t samples, summed; 0 for t = 0. */
  readonly log: Float64Array;
  /** For each window, the share of the whole row's weight of the cuts without a break in it. */
  readonly windowEmpty: Float64Array;
  /**
   * (n + 1) rows of `mostBreaks` + 2: of the weight of all cuts of the first t samples, the shares
   * of those with 0, 1, … `mostBreaks` breaks; the last entry holds those with more.
   */
  readonly breaks: Float64Array;
}

/**
 * Sums exp(−½ (segment costs + price × breaks)) over all cuts of each prefix, by the recursion over
 * the start of its last segment. A start is dropped where it can no longer add a share above e^−40.
 *
 * Source: Fearnhead 2006, Statistics and Computing 16, 203–213, section 2 (the recursions);
 * dropping starts as in Killick, Fearnhead & Eckley 2012.
 */
export function sumOverCuts(costs: SegmentCosts, options: CutSumOptions): CutSum {
  const n = costs.samples;
  const { minLength, pricePerBreak } = options;
  const log = new Float64Array(n + 1).fill(Number.NEGATIVE_INFINITY);
  log[0] = 0;
  const tally = new Tally(n, options);
  const outFrom = new Int32Array(n + 1).fill(n + 1);
  const starts = new Int32Array(n + 1);
  const value = new Float64Array(n + 1);
  let size = 0;
  for (let t = Math.min(minLength, n); t <= n; t++) {
    const opening = Math.max(0, t - minLength);
    if (log[opening]! > Number.NEGATIVE_INFINITY) starts[size++] = opening;
    let most = Number.NEGATIVE_INFINITY;
    for (let j = 0; j < size; j++) {
      const s = starts[j]!;
      const v = log[s]! - 0.5 * (segmentCost(costs, s, t) + (s === 0 ? 0 : pricePerBreak));
      value[j] = v;
      if (v > most) most = v;
    }
    log[t] = most + Math.log(tally.weigh(value, size, most));
    tally.add(t, starts, size);
    const least = log[t]! - 0.5 * pricePerBreak - NEGLIGIBLE;
    let kept = 0;
    for (let j = 0; j < size; j++) {
      const s = starts[j]!;
      const below = value[j]! < least && value[j]! - 0.5 * splitBound(costs, s, t) < least;
      if (below) outFrom[s] = Math.min(outFrom[s]!, t + minLength);
      if (outFrom[s]! > t + 1) starts[kept++] = s;
    }
    size = kept;
  }
  return { log, windowEmpty: tally.windowEmpty(n), breaks: tally.breaks(n) };
}

/** Carries shares of the cuts of each prefix along the recursion. */
class Tally {
  private readonly width: number;
  private readonly share: Float64Array;
  private readonly numbers: number;
  private readonly weight: Float64Array;
  private readonly windows: readonly (readonly [number, number])[];
  private sum = 0;

  constructor(n: number, { windows = [], mostBreaks = 0 }: CutSumOptions) {
    this.windows = windows;
    this.numbers = mostBreaks + 2;
    this.width = windows.length + this.numbers;
    this.share = new Float64Array((n + 1) * this.width);
    this.share.fill(1, 0, windows.length + 1);
    this.weight = new Float64Array(n + 1);
  }

  /** Takes the starts' weights from their logarithms, the greatest of which is `most`. */
  weigh(logs: Float64Array, size: number, most: number): number {
    this.sum = 0;
    for (let j = 0; j < size; j++) {
      // Negligible weights are not computed.
      const off = logs[j]! - most;
      const weight = off > -NEGLIGIBLE ? Math.exp(off) : 0;
      this.weight[j] = weight;
      this.sum += weight;
    }
    return this.sum;
  }

  add(t: number, starts: Int32Array, size: number): void {
    const { share, width, numbers, windows } = this;
    const row = t * width;
    for (let j = 0; j < size; j++) {
      const weight = this.weight[j]! / this.sum;
      if (!(weight > 0)) continue;
      const s = starts[j]!;
      const from = s * width;
      for (let w = 0; w < windows.length; w++) {
        const inside = s > 0 && s >= windows[w]![0] && s <= windows[w]![1];
        if (!inside) share[row + w] = share[row + w]! + weight * share[from + w]!;
      }
      const shift = s === 0 ? 0 : 1;
      for (let k = 0; k < numbers; k++) {
        const to = row + windows.length + Math.min(k + shift, numbers - 1);
        share[to] = share[to]! + weight * share[from + windows.length + k]!;
      }
    }
  }

  windowEmpty(t: number): Float64Array {
    return this.share.slice(t * this.width, t * this.width + this.windows.length);
  }

  breaks(n: number): Float64Array {
    const { numbers, width, share } = this;
    const windows = this.windows.length;
    return Float64Array.from({ length: (n + 1) * numbers }, (_, i) => {
      const row = Math.floor(i / numbers);
      return share[row * width + windows + (i - row * numbers)]!;
    });
  }
}
