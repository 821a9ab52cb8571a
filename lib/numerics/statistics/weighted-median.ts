/**
 * The least of `count` values up to which half of the weight lies; NaN without any. Values are not NaN,
 * weights are over 0. Both columns are written over: they come out in another order.
 *
 * Source: Hoare 1961 (Find), with weights for counts.
 *
 * @example weightedMedian(Float64Array.of(5, 1, 3), Float64Array.of(3, 1, 1), 3); // 5
 */
export function weightedMedian(values: Float64Array, weights: Float64Array, count: number): number {
  if (count === 0) return Number.NaN;
  const half = weightOf(weights, 0, count - 1) / 2;
  let [low, high, before] = [0, count - 1, 0];
  while (low < high) {
    const pivot = values[(low + high) >> 1]!;
    let [i, j] = [low, high];
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i > j) break;
      swap(values, i, j);
      swap(weights, i++, j--);
    }
    const lower = before + weightOf(weights, low, j);
    if (lower >= half) high = j;
    else if (i - j > 1 && lower + weights[j + 1]! >= half) return pivot;
    else [low, before] = [i, before + weightOf(weights, low, i - 1)];
  }
  return values[low]!;
}

function weightOf(weights: Float64Array, first: number, last: number): number {
  let sum = 0;
  for (let i = first; i <= last; i++) sum += weights[i]!;
  return sum;
}

function swap(column: Float64Array, i: number, j: number): void {
  const kept = column[i]!;
  column[i] = column[j]!;
  column[j] = kept;
}
