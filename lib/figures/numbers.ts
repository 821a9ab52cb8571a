import { firstOf, lastOf } from "../numerics/arrays.js";

/** A number for a specification, with `digits` significant digits; null where it is missing. */
export function significant(value: number, digits = 4): number | null {
  return Number.isFinite(value) ? Number(value.toPrecision(digits)) : null;
}

/** A number for a specification, with `decimals` decimals; null where it is missing. */
export function rounded(value: number, decimals = 1): number | null {
  if (!Number.isFinite(value)) return null;
  const text = Number(value.toFixed(decimals));
  return text === 0 ? 0 : text;
}

/** Smallest and largest finite value of several arrays; null where there is none. */
export function extent(arrays: readonly ArrayLike<number>[]): readonly [number, number] | null {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const values of arrays) {
    for (const value of Array.from(values)) {
      if (!Number.isFinite(value)) continue;
      if (value < low) low = value;
      if (value > high) high = value;
    }
  }
  return low <= high ? [low, high] : null;
}

/** A domain for a log scale that ends on 1, 2 or 5 times a power of ten; [1, 10] without values. */
export function logDomain(arrays: readonly ArrayLike<number>[]): readonly [number, number] {
  const positive = arrays.map((values) => Array.from(values).filter((value) => value > 0));
  const range = extent(positive);
  if (range === null) return [1, 10];
  const steps = logSteps(range[0], range[1]);
  return [firstOf(steps), lastOf(steps)];
}

/** The values 1, 2, 5 × 10^k that enclose a positive range, both ends included. */
export function logSteps(low: number, high: number): number[] {
  const all: number[] = [];
  const first = Math.floor(Math.log10(low));
  const last = Math.ceil(Math.log10(high));
  for (let power = first; power <= last; power++) {
    for (const factor of [1, 2, 5]) all.push(Number(`${factor}e${power}`));
  }
  const from = all.findLastIndex((step) => step <= low * (1 + 1e-9));
  let to = all.findIndex((step) => step >= high * (1 - 1e-9));
  if (to < 0) to = all.length - 1;
  if (to <= from) to = Math.min(from + 1, all.length - 1);
  return all.slice(Math.max(0, from), to + 1);
}
