import type { WhiteningFilter } from "./whitening-filter.js";

/**
 * What is left of a step in the whitening filter: what was taken of it for texture, and by how much
 * it is above the level. Both run on by themselves, so that whatever a step tells of samples and of
 * other terms follows from them, without its column.
 */
export type StepStates = readonly [texture: number, gap: number];

/** Right behind a step of one. */
export const STEP: StepStates = [0, 1];

/** The states at sample `to`, those at sample `from` given. */
export function runOn(
  { texture: ofTexture, level, scale, keep }: WhiteningFilter,
  [texture, gap]: StepStates,
  [from, to]: readonly [number, number],
): StepStates {
  for (let i = from; i < to; i++) {
    if (scale[i]! > 0) {
      const innovation = gap - texture;
      texture += ofTexture[i]! * innovation;
      gap -= level[i]! * innovation;
    }
    texture *= keep;
  }
  return [texture, gap];
}

/** (n + 1) × 3: sums over a sample and all later ones of what both states give there. */
export interface StateSquares {
  readonly texture: Float64Array;
  readonly both: Float64Array;
  readonly gap: Float64Array;
}

export function stateSquares({ texture, level, scale, keep }: WhiteningFilter): StateSquares {
  const n = scale.length;
  const squares = {
    texture: new Float64Array(n + 1),
    both: new Float64Array(n + 1),
    gap: new Float64Array(n + 1),
  };
  let [p, q, r] = [0, 0, 0];
  for (let i = n - 1; i >= 0; i--) {
    const root = scale[i]!;
    if (root > 0) {
      const b = keep * texture[i]!;
      const a = keep - b;
      const c = level[i]!;
      const d = 1 - c;
      const u = p * b + q * d;
      const v = q * b + r * d;
      const own = root * root;
      p = a * (p * a + q * c) + c * (q * a + r * c) + own;
      q = a * u + c * v - own;
      r = b * u + d * v + own;
    } else {
      p *= keep * keep;
      q *= keep;
    }
    squares.texture[i] = p;
    squares.both[i] = q;
    squares.gap[i] = r;
  }
  return squares;
}

/** By sample: products of a whitened column with what either state gives from there on. */
export interface StateProducts {
  readonly texture: Float64Array;
  readonly gap: Float64Array;
}

/**
 * @param white m samples from sample `from` on.
 * @param behind the products behind them.
 * @returns m + 1 of them; those behind stand last.
 */
export function stateProducts(
  { texture: ofTexture, level, scale, keep }: WhiteningFilter,
  white: Float64Array,
  { from = 0, behind = [0, 0] }: { readonly from?: number; readonly behind?: StepStates } = {},
): StateProducts {
  const m = white.length;
  const products = { texture: new Float64Array(m + 1), gap: new Float64Array(m + 1) };
  let [texture, gap] = behind;
  products.texture[m] = texture;
  products.gap[m] = gap;
  for (let k = m - 1; k >= 0; k--) {
    const i = from + k;
    const root = scale[i]!;
    if (root > 0) {
      const kept = keep * texture;
      const share = ofTexture[i]! * kept - level[i]! * gap + root * white[k]!;
      texture = kept - share;
      gap += share;
    } else {
      texture *= keep;
    }
    products.texture[k] = texture;
    products.gap[k] = gap;
  }
  return products;
}
