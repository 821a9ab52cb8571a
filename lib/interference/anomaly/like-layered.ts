import { itemAt, valueAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";

/** Layers of a simple earth: an upper and a lower part, and the layer at which the lower begins. */
interface TwoParts {
  readonly upper_S_per_m: number;
  readonly lower_S_per_m: number;
  readonly from: number;
}

/** What a reading may be off by besides the ground: a share of it, and a zero, ppm. */
const SHARE = 0.05;
const ZERO_PPM = 25;
/** Tenths of a decade between the conductivities that are tried, first and then about the best. */
const COARSE = 3;
const FINE = [-2, -1, 1, 2];
const [LOWEST, HIGHEST] = [-35, 5];
/** Lower over upper conductivity. */
const RATIOS = [1, 1 / 3, 3, 0.1, 10, 1 / 30, 30];

/** What channels read, and what the earths to choose from would make them read. */
export interface LayeredFit {
  /** c readings. */
  readonly target: Float64Array;
  /** c factors from ppm to the channels' units. */
  readonly perPpm: Float64Array;
  /** The number of layers. */
  readonly layers: number;
  readonly response: (conductivity_S_per_m: readonly number[]) => Float64Array;
}

/**
 * Of earths of one or two parts, the conductivities by layer of the one that reads most like the
 * target: a uniform earth where two parts explain it no better.
 */
export function likeLayered({ target, perPpm, layers, response }: LayeredFit): readonly number[] {
  const scale = target.map((value, c) => SHARE * Math.abs(value) + ZERO_PPM * valueAt(perPpm, c));
  const misfit = (parts: TwoParts) => {
    const misses = response(columnOf(parts, layers)).map(
      (value, c) => ((value - valueAt(target, c)) / valueAt(scale, c)) ** 2,
    );
    return misses.reduce((sum, miss) => sum + (Number.isNaN(miss) ? 0 : miss), 0);
  };
  const [first, ...others] = shapes(layers).map((shape) => bestOf(shape, misfit));
  if (first === undefined) return [];
  const best = others.reduce((least, one) => (one.miss < least.miss ? one : least), first);
  return columnOf(best.parts, layers);
}

/** The earth of a shape that fits best: over a coarse grid of levels, then about the best of them. */
function bestOf(shape: Shape, misfit: (parts: TwoParts) => number) {
  const tried = (tenths: number) => {
    const parts = twoParts(tenths, shape);
    return { tenths, parts, miss: misfit(parts) };
  };
  let best = tried(LOWEST);
  const attempt = (tenths: number) => {
    const one = tried(tenths);
    if (one.miss < best.miss) best = one;
  };
  for (let tenths = LOWEST + COARSE; tenths <= HIGHEST; tenths += COARSE) attempt(tenths);
  const { tenths: about } = best;
  for (const step of FINE) attempt(about + step);
  return best;
}

interface Shape {
  readonly ratio: number;
  readonly from: number;
}

/** One uniform earth, then those of two parts. */
function shapes(layers: number): readonly Shape[] {
  return RATIOS.flatMap((ratio) =>
    ratio === 1
      ? [{ ratio, from: 1 }]
      : Array.from({ length: layers - 1 }, (_, k) => ({ ratio, from: k + 1 })),
  );
}

function twoParts(tenths: number, { ratio, from }: Shape): TwoParts {
  const upper_S_per_m = 10 ** (tenths / 10);
  return { upper_S_per_m, lower_S_per_m: ratio * upper_S_per_m, from };
}

function columnOf({ upper_S_per_m, lower_S_per_m, from }: TwoParts, layers: number) {
  return Array.from({ length: layers }, (_, l) => (l < from ? upper_S_per_m : lower_S_per_m));
}

/** Medians of the channels over the readings that rank about a share of the way up one of them. */
export function mediansAbout(
  values: readonly Float64Array[],
  by: Float64Array,
  share: number,
): Float64Array {
  const order = [...by.keys()]
    .filter((i) => !Number.isNaN(valueAt(by, i)))
    .sort((i, j) => valueAt(by, i) - valueAt(by, j));
  const middle = share * (order.length - 1);
  const half = Math.max(2, 0.05 * order.length);
  const near = order.slice(Math.max(0, Math.floor(middle - half)), Math.ceil(middle + half) + 1);
  return Float64Array.from(values, (column) => median(near.map((i) => itemAt(column, i))));
}
