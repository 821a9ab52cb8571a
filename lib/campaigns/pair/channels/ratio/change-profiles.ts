import { itemAt } from "../../../../numerics/arrays.js";

/** A way in which the ground may have changed with depth. */
export interface ChangeProfile {
  /** m shares of the change that each layer takes: 1 where it is whole. */
  readonly share: Float64Array;
  readonly weight: number;
  /** True where every layer that takes part changes by the same. */
  readonly isWhole: boolean;
  /** The first and the last layer that take part. */
  readonly first: number;
  readonly last: number;
  /** For each size, what it makes of the conductivity of layers first … last, relative. */
  readonly relative: Float64Array;
}

/** Sizes of a change that are tried, ln resistivity: factors from 1.02 to 8 up and down. */
export const SIZES = Object.freeze(
  [-1, 1].flatMap((side) => Array.from({ length: 70 }, (_, i) => side * 0.02 * 1.07 ** i)),
);
/** Typical size of a change, ln resistivity, of a two-sided exponential distribution. */
const TYPICAL = 0.35;

/** Weights of `SIZES`, the density of the distribution times the step to the next size. */
export const SIZE_WEIGHTS: readonly number[] = Object.freeze(
  SIZES.map((size) => Math.abs(size) * Math.exp(-Math.abs(size) / TYPICAL)),
);

/**
 * The prior of a change's depths: it fills the ground between any two borders of layers, the last
 * without a base, whole or fading from its top to its base.
 */
export function changeProfiles(top_m: Float64Array): readonly ChangeProfile[] {
  const m = top_m.length;
  const shares: (readonly [Float64Array, number])[] = [];
  for (let a = 0; a < m; a++) {
    for (let b = a + 1; b <= m; b++) {
      shares.push([whole(m, a, b), 1]);
      if (b - a > 1 && b < m) shares.push([fading(top_m, a, b), 0.5]);
    }
  }
  const total = shares.reduce((sum, [, weight]) => sum + weight, 0);
  return shares.map(([share, weight]) => profileOf(share, weight / total));
}

function profileOf(share: Float64Array, weight: number): ChangeProfile {
  const takesPart = (part: number) => part > 0;
  const [first, last] = [share.findIndex(takesPart), share.findLastIndex(takesPart)];
  const layers = last + 1 - first;
  const relative = new Float64Array(SIZES.length * layers).map((_, at) =>
    Math.expm1(-itemAt(SIZES, Math.floor(at / layers)) * itemAt(share, first + (at % layers))),
  );
  const isWhole = share.every((part) => part === 0 || part === 1);
  return { share, weight, isWhole, first, last, relative };
}

const whole = (m: number, a: number, b: number) =>
  Float64Array.from({ length: m }, (_, j) => (j >= a && j < b ? 1 : 0));

function fading(top_m: Float64Array, a: number, b: number): Float64Array {
  const [top, base] = [itemAt(top_m, a), itemAt(top_m, b)];
  return top_m.map((upper, j) => {
    if (j < a || j >= b) return 0;
    return 1 - ((upper + itemAt(top_m, j + 1)) / 2 - top) / (base - top);
  });
}

/** m × m: mean product of the shares of two layers, times the mean square of the sizes. */
export function profileCovariance(profiles: readonly ChangeProfile[]): Float64Array {
  const m = itemAt(profiles, 0).share.length;
  const out = new Float64Array(m * m);
  for (const { share, weight } of profiles) {
    for (let i = 0; i < m; i++) {
      const here = 2 * TYPICAL ** 2 * weight * share[i]!;
      for (let j = 0; here > 0 && j < m; j++) out[i * m + j]! += here * share[j]!;
    }
  }
  return out;
}
