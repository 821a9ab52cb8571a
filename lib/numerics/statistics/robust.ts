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
  if (!(p >= 0 && p <= 1)) return Number.NaN;
  if (work.length < values.length) work = new Float64Array(2 * values.length);
  const count = takePresent(values, work);
  if (count === 0) return Number.NaN;
  const place = p * (count - 1);
  const below = Math.floor(place);
  if (count <= FEW) sortByInsertion(work, count);
  else partition(work, count, below);
  const low = work[below]!;
  if (below + 1 === count) return low;
  let high = work[below + 1]!;
  if (count > FEW) for (let i = below + 2; i < count; i++) high = Math.min(high, work[i]!);
  return betweenOrders(place, low, high);
}

/** What quantiles are found in: most are of few values, for which a new column costs more. */
let work = new Float64Array(256);

/** Brings the value of a rank to its place, smaller ones before it. Source: Hoare 1961 (Find). */
function partition(values: Float64Array, count: number, rank: number): void {
  let [low, high] = [0, count - 1];
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
  const there = present(values);
  if (there.length > FEW) return there.sort();
  sortByInsertion(there, there.length);
  return there;
}

function present(values: ArrayLike<number>): Float64Array {
  const all = new Float64Array(values.length);
  const count = takePresent(values, all);
  return count === all.length ? all : all.subarray(0, count);
}

/** Writes the values that are there; gives how many. */
function takePresent(values: ArrayLike<number>, out: Float64Array): number {
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    const value = values[i] as number;
    if (!Number.isNaN(value)) out[count++] = value;
  }
  return count;
}

/** Up to so many values are sorted sooner by insertion than by a call of the engine's own sort. */
const FEW = 40;

function sortByInsertion(values: Float64Array, count: number): void {
  for (let i = 1; i < count; i++) {
    const value = values[i]!;
    let at = i;
    for (; at > 0 && values[at - 1]! > value; at--) values[at] = values[at - 1]!;
    values[at] = value;
  }
}
