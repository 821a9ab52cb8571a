const SERIES_BELOW = 2.2;

/**
 * The complementary error function, to 1e-13 relative until it underflows near x = 26.5.
 *
 * Below 2.2 by the series of positive terms, beyond by the continued fraction. NaN gives NaN.
 * Source: Abramowitz & Stegun 1964, 7.1.6 and 7.1.14.
 *
 * @example erfc(1); // 0.15729920705028513
 */
export function erfc(x: number): number {
  if (x < 0) return 2 - erfc(-x);
  if (x < SERIES_BELOW) return 1 - erfSeries(x);
  return (Math.exp(-x * x) * erfcFraction(x)) / Math.sqrt(Math.PI);
}

function erfSeries(x: number): number {
  let term = x;
  let sum = x;
  for (let n = 1; term > 1e-18 * sum; n++) {
    term *= (2 * x * x) / (2 * n + 1);
    sum += term;
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
}

function erfcFraction(x: number): number {
  if (!(x < 30)) return Number.isNaN(x) ? x : 0;
  let tail = 0;
  for (let n = 120; n > 0; n--) tail = n / 2 / (x + tail);
  return 1 / (x + tail);
}

/** P(Z > z) of a standard normal variable, to 1e-13 relative. NaN gives NaN. */
export function normalTail(z: number): number {
  return erfc(z * Math.SQRT1_2) / 2;
}

/** P(|Z| > |z|) of a standard normal variable, to 1e-13 relative. NaN gives NaN. */
export function normalTwoSided(z: number): number {
  return erfc(Math.abs(z) * Math.SQRT1_2);
}

/** Standard normal value that one in ten exceed: an 80 % interval reaches this far either way. */
export const NORMAL_90 = 1.2815515655446004;
/** Standard normal value that one in twenty exceed: a 90 % interval reaches this far either way. */
export const NORMAL_95 = 1.6448536269514722;

/** z with P(Z > z) = tail, by bisection to the last digits. */
export function normalPoint(tail: number): number {
  let [low, high] = [-40, 40];
  for (let round = 0; round < 100; round++) {
    const middle = (low + high) / 2;
    if (normalTail(middle) > tail) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
