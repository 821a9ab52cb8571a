/** 1 / Φ⁻¹(0.75): makes the median absolute deviation a standard deviation for normal data. */
export const MAD_TO_SD = 1.482602218505602;

/** The middle value; the mean of the middle two for an even count. NaN is ignored; NaN if empty. */
export function median(values: ArrayLike<number>): number {
  return quantile(values, 0.5);
}

/**
 * The p-quantile by linear interpolation between order statistics (type 7).
 *
 * NaN values are ignored; the result is NaN where none is left, and where p is not in 0 … 1.
 * Source: Hyndman & Fan 1996, The American Statistician 50(4), 361–365, definition 7.
 *
 * @example quantile([1, 2, 3, 4], 0.25); // 1.75
 */
export function quantile(values: ArrayLike<number>, p: number): number {
  const there = present(values);
  if (there.length <= FEW || !(p >= 0 && p <= 1)) return sortedQuantile(inOrder(there), p);
  const place = p * (there.length - 1);
  const below = Math.floor(place);
  partition(there, below);
  const low = there[below] as number;
  if (below + 1 === there.length) return low;
  let high = Number.POSITIVE_INFINITY;
  for (let i = below + 1; i < there.length; i++) high = Math.min(high, there[i] as number);
  return betweenOrders(place, low, high);
}

/** Brings the value of a rank to its place, smaller ones before it. Source: Hoare 1961 (Find). */
function partition(values: Float64Array, rank: number): void {
  let [low, high] = [0, values.length - 1];
  while (low < high) {
    const pivot = middleOf(values[low]!, values[(low + high) >> 1]!, values[high]!);
    let [i, j] = [low, high];
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i <= j) {
        const kept = values[i]!;
        values[i++] = values[j]!;
        values[j--] = kept;
      }
    }
    if (rank <= j) high = j;
    else if (rank >= i) low = i;
    else return;
  }
}

function middleOf(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}

/** The p-quantile (type 7) of values that are sorted and without NaN. */
export function sortedQuantile(sorted: ArrayLike<number>, p: number): number {
  if (!(p >= 0 && p <= 1) || sorted.length === 0) return Number.NaN;
  const place = p * (sorted.length - 1);
  const below = Math.floor(place);
  const low = sorted[below] as number;
  const high = sorted[Math.min(below + 1, sorted.length - 1)] as number;
  return betweenOrders(place, low, high);
}

/** Straight between the values of two ranks, the lower one that of the place's whole part. */
function betweenOrders(place: number, low: number, high: number): number {
  return low === high ? low : low + (place - Math.floor(place)) * (high - low);
}

/**
 * The scale of the values, robust against up to half of them being outliers: 1.4826 × the median
 * absolute deviation from the median. NaN is ignored; NaN if empty; 0 where more than half agree.
 *
 * Source: Hampel 1974, Journal of the American Statistical Association 69, 383–393.
 *
 * @example madScale([1, 2, 3, 4, 100]); // 1.482602218505602
 */
export function madScale(values: ArrayLike<number>): number {
  const away = present(values);
  const centre = median(away);
  for (let i = 0; i < away.length; i++) away[i] = Math.abs(away[i]! - centre);
  return MAD_TO_SD * median(away);
}

/** The values that are there, in rising order. */
export function sortedPresent(values: ArrayLike<number>): Float64Array {
  return inOrder(present(values));
}

function present(values: ArrayLike<number>): Float64Array {
  let count = 0;
  const all = new Float64Array(values.length);
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number;
    if (!Number.isNaN(value)) all[count++] = value;
  }
  return all.subarray(0, count);
}

function inOrder(values: Float64Array): Float64Array {
  return values.length > FEW ? values.sort() : insertionSorted(values);
}

/** Up to so many values are sorted sooner by insertion than by a call of the engine's own sort. */
const FEW = 40;

function insertionSorted(values: Float64Array): Float64Array {
  for (let i = 1; i < values.length; i++) {
    const value = values[i]!;
    let at = i;
    for (; at > 0 && values[at - 1]! > value; at--) values[at] = values[at - 1]!;
    values[at] = value;
  }
  return values;
}
