/** Decades: errors that are stated as zero are taken for this, so that a test can be made. */
const LEAST_SD = 1e-6;

export interface Smoothed {
  /** n moving means; NaN where the sample itself is missing or half of its window is. */
  readonly value: Float64Array;
  /** n standard deviations of the means for independent errors. */
  readonly sd: Float64Array;
}

/** Moving means over an odd number of samples, missing ones left out, with propagated errors. */
export function smoothed(column: Float64Array, sd: Float64Array, window: number): Smoothed {
  const n = column.length;
  const reach = (window - 1) / 2;
  const value = new Float64Array(n).fill(Number.NaN);
  const meanSd = new Float64Array(n).fill(Number.NaN);
  for (let i = 0; i < n; i++) {
    if (Number.isNaN(column[i]!)) continue;
    let sum = 0;
    let squares = 0;
    let present = 0;
    for (let j = Math.max(0, i - reach); j <= Math.min(n - 1, i + reach); j++) {
      if (Number.isNaN(column[j]!)) continue;
      sum += column[j]!;
      squares += sd[j]! * sd[j]!;
      present++;
    }
    if (2 * present < window) continue;
    value[i] = sum / present;
    meanSd[i] = Math.max(LEAST_SD, Math.sqrt(squares) / present);
  }
  return { value, sd: meanSd };
}

/**
 * n slopes of the moving mean, by station: from its neighbours, or from one of them and the
 * station itself where the other is missing; 0 where both are.
 */
export function slopes(mean: Float64Array): Float64Array {
  return mean.map((value, i) => {
    const before = mean[i - 1] ?? Number.NaN;
    const after = mean[i + 1] ?? Number.NaN;
    const span = (Number.isNaN(before) ? 0 : 1) + (Number.isNaN(after) ? 0 : 1);
    const rise = (Number.isNaN(after) ? value : after) - (Number.isNaN(before) ? value : before);
    return span === 0 ? 0 : rise / span;
  });
}
