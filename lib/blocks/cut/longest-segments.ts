import type { SegmentCosts } from "./segment-cost.js";

/**
 * For each start, the last end that a segment of a best segmentation can have: n + 1 entries.
 *
 * Where splitting p … q in its middle gains more than three breaks cost, no segment of a best
 * segmentation holds p … q with a shortest segment to spare on either side: cutting it at p, at the
 * middle and at q would be cheaper. Windows p … q of doubling length are looked at along the line.
 */
export function longestSegments(
  costs: SegmentCosts,
  pricePerBreak: number,
  minLength: number,
): Int32Array {
  const n = costs.samples;
  const last = new Int32Array(n + 1).fill(n);
  for (let half = Math.max(minLength, 4); 2 * half <= n; half *= 2) {
    const step = Math.max(1, half >> 2);
    const price = 3 * pricePerBreak + lengthTerms(costs, half);
    for (let middle = half; middle + half <= n; middle += step) {
      if (!(gainOfSplit(costs, middle, half) > price + 1e-6)) continue;
      const start = middle - half - minLength;
      if (start < 0) continue;
      last[start] = Math.min(last[start]!, middle + half + minLength - 1);
    }
  }
  for (let start = n - 1; start >= 0; start--) {
    last[start] = Math.min(last[start]!, last[start + 1]!);
  }
  return last;
}

/** What four parts' length terms can add to one segment's, two of the parts `half` long. */
function lengthTerms(costs: SegmentCosts, half: number): number {
  const { lengthWeight, columns, log, samples } = costs;
  return lengthWeight * columns * (2 * log[half]! + Math.log(Math.max(1, samples / 4)));
}

function gainOfSplit(costs: SegmentCosts, middle: number, half: number): number {
  const { columns: d, sum, weight, whole } = costs;
  let gain = 0;
  for (let c = 0; c < d; c++) {
    const [p, m, q] = [(middle - half) * d + c, middle * d + c, (middle + half) * d + c];
    const n1 = whole ? half : weight[m]! - weight[p]!;
    const n2 = whole ? half : weight[q]! - weight[m]!;
    if (!(n1 > 0 && n2 > 0)) continue;
    const apart = (sum[m]! - sum[p]!) / n1 - (sum[q]! - sum[m]!) / n2;
    gain += ((n1 * n2) / (n1 + n2)) * apart * apart;
  }
  return gain;
}
