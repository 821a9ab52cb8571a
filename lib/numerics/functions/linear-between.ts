/** The last of rising values in a range of rows that is at most the one asked; else first − 1. */
export function lastAtMost(
  values: ArrayLike<number>,
  asked: number,
  [first, last]: readonly [number, number],
): number {
  let [low, high] = [first - 1, last];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (values[middle]! <= asked) low = middle;
    else high = middle - 1;
  }
  return low;
}

/**
 * y at x: straight from point to point, level beyond the first and the last. Of two points at one
 * place the later counts there, so that a step stays sharp. NaN for a missing x and without points.
 *
 * @param xs never falling, as many as `ys`
 * @example linearBetween([0, 2], [1, 5], 0.5); // 2
 */
export function linearBetween(xs: ArrayLike<number>, ys: ArrayLike<number>, x: number): number {
  if (Number.isNaN(x) || xs.length === 0) return Number.NaN;
  const last = xs.length - 1;
  const k = lastAtMost(xs, x, [0, last]);
  if (k < 0) return ys[0]!;
  if (k === last) return ys[last]!;
  const share = (x - xs[k]!) / (xs[k + 1]! - xs[k]!);
  return ys[k]! + share * (ys[k + 1]! - ys[k]!);
}
