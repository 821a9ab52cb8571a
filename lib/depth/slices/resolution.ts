import { layerParts } from "../../earth/embankment/layer-parts.js";
import { onBank } from "../../earth/embankment/on-bank.js";
import { stationForward } from "../../earth/station-forward.js";
import { choleskyFactor, choleskyInverse, choleskySolve } from "../../numerics/algebra/cholesky.js";
import { quadraticForm } from "../../numerics/algebra/quadratic-form.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import { ORDINARY_VARIATION, variationFactor } from "../../planning/scene/ground-variation.js";
import { scaledSlope } from "../data/reading-scale.js";
import type { FoundLine } from "../posterior/hyperparameters.js";

/** What the readings resolve of ground of ordinary variation; covariances of m layers, ln units. */
export interface Resolution {
  readonly levels: number;
  readonly before: Float64Array;
  /** One for each column that was looked at. */
  readonly after: readonly Float64Array[];
  /** The part of it that comes from all errors of the readings, and from those of one walk alone. */
  readonly fromErrors: readonly Float64Array[];
  readonly fromNoise: readonly Float64Array[];
  /** m × c changes of the layers for one of each reading, ln units by the reading scale. */
  readonly byReading: readonly Float64Array[];
  /** c changes of the readings with the coils' height, reading scale by m. */
  readonly byHeight: readonly Float64Array[];
}

const STEP_M = 0.01;

/**
 * Independent numbers that the readings hold about ground of ordinary variation, whose layers are
 * near the columns given: trace of I − (I + Gᵀ R⁻¹ G)⁻¹, G the derivatives times the factor of that
 * variation, R the covariance of the readings' errors. Median over columns of m ln conductivities.
 * It goes by what the coils see, not by the kinds of ground that were found.
 * Source: Rodgers 2000, Inverse Methods for Atmospheric Sounding, section 2.4.
 */
export function resolutionOf(
  columns: readonly Float64Array[],
  top_m: Float64Array,
  line: FoundLine,
): Resolution {
  const factor = variationFactor(top_m, ORDINARY_VARIATION);
  const m = top_m.length;
  const found = columns.map((column) => {
    const { derivatives, noise, byHeight } = linearised(column, top_m, line);
    const errors = { noise, white: line.found.white };
    return { ...posteriorOf(times(derivatives, factor, m), errors, factor), byHeight };
  });
  return {
    levels: median(found.map((one) => one.levels)),
    before: times(factor, transposed(factor, m), m),
    after: found.map((one) => one.covariance),
    fromErrors: found.map((one) => one.fromErrors),
    fromNoise: found.map((one) => one.fromNoise),
    byReading: found.map((one) => one.byReading),
    byHeight: found.map((one) => one.byHeight),
  };
}

/** Derivatives, c × m on the reading scale, and the covariance of the readings' errors. */
function linearised(column: Float64Array, top_m: Float64Array, line: FoundLine) {
  const { bank, channels, knee_ppm, walk, heightSd_m, common: shared } = line.level;
  const { white } = line.found;
  const c = channels.length;
  const m = top_m.length;
  const { height_m } = line;
  const [response, moved] = [new Float64Array(c), new Float64Array(c)];
  const derivatives = new Float64Array(c * m);
  const forward = (at_m: number) => {
    const level = stationForward(channels, top_m, at_m);
    return bank === undefined ? level : onBank(level, layerParts(bank, top_m), channels);
  };
  forward(height_m + STEP_M).evaluate(column, moved, derivatives);
  forward(height_m).evaluate(column, response, derivatives);
  const slope = response.map((value, d) => scaledSlope(value, knee_ppm[d]!));
  const byHeight = moved.map((value, d) => (slope[d]! * (value - response[d]!)) / STEP_M);
  for (let at = 0; at < derivatives.length; at++) {
    derivatives[at] = valueAt(derivatives, at) * valueAt(slope, Math.floor(at / m));
  }
  const noise = new Float64Array(c * c);
  for (let i = 0; i < c; i++) {
    for (let j = 0; j < c; j++) {
      const own = i === j ? white[i]! ** 2 + shared[i]! ** 2 : 0;
      const common = walk[i] === walk[j] ? heightSd_m ** 2 * byHeight[i]! * byHeight[j]! : 0;
      noise[i * c + j] = own + common;
    }
  }
  return { derivatives, noise, byHeight };
}

/** L (I + Gᵀ R⁻¹ G)⁻¹ Lᵀ, and the trace of I less the inverse. */
function posteriorOf(
  g: Float64Array,
  { noise, white }: { readonly noise: Float64Array; readonly white: Float64Array },
  lower: Float64Array,
) {
  const m = Math.round(Math.sqrt(lower.length));
  const c = g.length / m;
  const factor = choleskyFactor(noise, c);
  const normal = new Float64Array(m * m);
  // Rows of R⁻¹ G by unknown.
  const weighted = new Float64Array(m * c);
  for (let j = 0; j < m; j++) {
    const column = Float64Array.from({ length: c }, (_, i) => g[i * m + j]!);
    const solved = choleskySolve(factor, c, column);
    weighted.set(solved, j * c);
    for (let i = 0; i < m; i++) {
      let sum = i === j ? 1 : 0;
      for (let d = 0; d < c; d++) sum += g[d * m + i]! * solved[d]!;
      normal[i * m + j] = sum;
    }
  }
  const inverse = choleskyInverse(choleskyFactor(normal, m), m);
  let levels = m;
  for (let j = 0; j < m; j++) levels -= inverse[j * m + j]!;
  const gains = times(lower, inverse, m);
  const spread = (middle: Float64Array) => times(times(gains, middle, m), transposed(gains, m), m);
  const squares = (scale: (d: number) => number) =>
    Float64Array.from({ length: m * m }, (_, at) => {
      const [i, j] = [Math.floor(at / m), at % m];
      let sum = 0;
      for (let d = 0; d < c; d++) sum += scale(d) * weighted[i * c + d]! * weighted[j * c + d]!;
      return sum;
    });
  const unit = normal.map((value, at) => value - (at % (m + 1) === 0 ? 1 : 0));
  return {
    levels,
    covariance: times(gains, transposed(lower, m), m),
    fromErrors: spread(unit),
    fromNoise: spread(squares((d) => white[d]! ** 2)),
    byReading: product(gains, weighted, { rows: m, columns: c }),
  };
}

/** A B of `rows` rows of as many values, and a B of `columns` columns. */
function product(
  a: Float64Array,
  b: Float64Array,
  { rows, columns }: { readonly rows: number; readonly columns: number },
): Float64Array {
  return Float64Array.from({ length: rows * columns }, (_, at) => {
    const [i, d] = [Math.floor(at / columns), at % columns];
    let sum = 0;
    for (let k = 0; k < rows; k++) sum += a[i * rows + k]! * b[k * columns + d]!;
    return sum;
  });
}

/** A B of rows of m values and an m × m matrix. */
function times(a: Float64Array, b: Float64Array, m: number): Float64Array {
  return a.map((_, at) => {
    const row = at - (at % m);
    let sum = 0;
    for (let k = 0; k < m; k++) sum += a[row + k]! * b[k * m + (at % m)]!;
    return sum;
  });
}

const transposed = (a: Float64Array, m: number) =>
  a.map((_, at) => a[(at % m) * m + Math.floor(at / m)]!);

/** Of a slice's deviation by errors of the readings, the share that differs from walk to walk. */
export function noiseShare({ fromErrors, fromNoise }: Resolution, weights: Float64Array): number {
  return median(
    fromErrors.map((all, k) =>
      Math.sqrt(quadraticForm(itemAt(fromNoise, k), weights) / quadraticForm(all, weights)),
    ),
  );
}
