/** For each of n places the values from index `first` up to, not with, `end`; both only rise. */
export interface Windows {
  readonly first: Int32Array;
  readonly end: Int32Array;
}

/** The values within so many metres of each place; places rise. */
export function windowsWithin(places_m: Float64Array, half_m: number): Windows {
  const n = places_m.length;
  const windows = { first: new Int32Array(n), end: new Int32Array(n) };
  let [first, end] = [0, 0];
  for (let i = 0; i < n; i++) {
    const x = places_m[i]!;
    while (places_m[first]! < x - half_m) first++;
    while (end < n && places_m[end]! <= x + half_m) end++;
    windows.first[i] = first;
    windows.end[i] = end;
  }
  return windows;
}

/**
 * The median of the values in each window: the middle one, the mean of the middle two for an even
 * count. NaN is ignored; NaN where a window holds nothing. The values of a window are held in order
 * while it moves on, so that a step costs one place found and one given up.
 */
export function movingMedian(values: Float64Array, { first, end }: Windows): Float64Array {
  const window = new SortedWindow(values.length);
  const medians = new Float64Array(first.length);
  let [from, to] = [0, 0];
  for (let i = 0; i < medians.length; i++) {
    while (to < end[i]!) window.add(values[to++]!);
    while (from < first[i]!) window.remove(values[from++]!);
    medians[i] = window.median;
  }
  return medians;
}

/** Values in rising order. */
class SortedWindow {
  private readonly values: Float64Array;
  private count = 0;

  constructor(most: number) {
    this.values = new Float64Array(most);
  }

  get median(): number {
    if (this.count === 0) return Number.NaN;
    const low = this.values[(this.count - 1) >> 1]!;
    const high = this.values[this.count >> 1]!;
    return low === high ? low : low + 0.5 * (high - low);
  }

  add(value: number): void {
    if (Number.isNaN(value)) return;
    const at = this.placeOf(value);
    this.values.copyWithin(at + 1, at, this.count);
    this.values[at] = value;
    this.count++;
  }

  remove(value: number): void {
    if (Number.isNaN(value)) return;
    const at = this.placeOf(value);
    this.values.copyWithin(at, at + 1, this.count);
    this.count--;
  }

  /** How many values are less. */
  private placeOf(value: number): number {
    let [low, high] = [0, this.count];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.values[middle]! < value) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}
