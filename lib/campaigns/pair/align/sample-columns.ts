/**
 * A column at a place between its stations, by straight line. Where one neighbour is missing the
 * other stands for it within half a spacing; NaN where that does not help.
 */
export function sampledAt(column: Float64Array, place: number): number {
  const below = Math.floor(place);
  const share = place - below;
  const low = column[below] ?? Number.NaN;
  if (share === 0) return low;
  const high = column[below + 1] ?? Number.NaN;
  if (Number.isNaN(low)) return share >= 0.5 ? high : Number.NaN;
  if (Number.isNaN(high)) return share <= 0.5 ? low : Number.NaN;
  return low + share * (high - low);
}

/** A column at a place, by the cubic through its four neighbours; NaN where any is missing. */
export function cubicAt(column: Float64Array, place: number): number {
  const i = Math.floor(place);
  const t = place - i;
  if (t === 0) return column[i] ?? Number.NaN;
  const a = column[i - 1]!;
  const b = column[i]!;
  const c = column[i + 1]!;
  const d = column[i + 2]!;
  return b + (t / 2) * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));
}

/** A moving mean 1 : 2 : 1, so that values between stations are about as noisy as at them. */
export function lightlySmoothed(column: Float64Array): Float64Array {
  return column.map((value, i) => {
    const [before, after] = [column[i - 1] ?? Number.NaN, column[i + 1] ?? Number.NaN];
    return Number.isNaN(before + after) ? value : (before + 2 * value + after) / 4;
  });
}

/**
 * A column less its running median over `reach` samples to either side: a step in it, as at the end
 * of a stretch that changed, is taken off with its edge.
 */
export function lessRunningMedian(column: Float64Array, reach: number): Float64Array {
  const n = column.length;
  const window = { sorted: new Float64Array(2 * reach + 2), count: 0 };
  for (let i = 0; i < Math.min(reach, n); i++) insert(window, column[i]!);
  return column.map((value, i) => {
    const next = i + reach < n ? column[i + reach]! : Number.NaN;
    const past = i - reach > 0 ? column[i - reach - 1]! : Number.NaN;
    exchange(window, past, next);
    const { sorted, count } = window;
    const below = (count - 1) >> 1;
    return count === 0 ? Number.NaN : value - (sorted[below]! + sorted[count >> 1]!) / 2;
  });
}

/** The first `count` values are in rising order. */
interface Window {
  readonly sorted: Float64Array;
  count: number;
}

/** Takes a value out of a window and puts another in; NaN is none. */
function exchange(window: Window, past: number, next: number): void {
  if (Number.isNaN(past)) insert(window, next);
  else if (Number.isNaN(next)) remove(window, past);
  else {
    const { sorted, count } = window;
    let at = 0;
    while (sorted[at] !== past) at++;
    for (; at > 0 && sorted[at - 1]! > next; at--) sorted[at] = sorted[at - 1]!;
    for (; at + 1 < count && sorted[at + 1]! < next; at++) sorted[at] = sorted[at + 1]!;
    sorted[at] = next;
  }
}

function insert(window: Window, value: number): void {
  if (Number.isNaN(value)) return;
  const { sorted } = window;
  let at = window.count++;
  for (; at > 0 && sorted[at - 1]! > value; at--) sorted[at] = sorted[at - 1]!;
  sorted[at] = value;
}

function remove(window: Window, value: number): void {
  const { sorted } = window;
  let at = 0;
  while (sorted[at] !== value) at++;
  window.count--;
  for (; at < window.count; at++) sorted[at] = sorted[at + 1]!;
}
