import { choleskyFactor, choleskySolve } from "../../numerics/algebra/cholesky.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";
import type { Pass } from "../../survey/survey.js";

export interface ReadingNoise {
  readonly scatter: Float64Array;
  readonly own: Float64Array;
}

/** Fewest triples of readings that tell a scatter. */
const LEAST = 8;
const HAMPEL = 1.482602218505602;
/** Differences count up to so many robust deviations. */
const MOST = 4;

/**
 * The scatter of one reading of each channel of a pass, by y[i−1] − 2 y[i] + y[i+1] over sqrt 6, so
 * that slow change and drift do not enter; and the part of it that the other channels of the same
 * readings do not share, so that neither does what the ground or the coils' height does to all. 0
 * where too few readings stand side by side.
 */
export function readingNoise({ values, setAside, count }: Pass): ReadingNoise {
  const seconds = values.map((row, c) => secondDifferences(row, itemAt(setAside, c), count));
  const scale = seconds.map((row) => {
    const sizes = row.map(Math.abs).filter((size) => !Number.isNaN(size));
    return sizes.length < LEAST ? 0 : (HAMPEL * median(sizes)) / Math.sqrt(6);
  });
  const told = scale.flatMap((one, c) => (one > 0 ? [c] : []));
  const rows = Array.from({ length: count }, (_, i) => i).filter((i) =>
    told.every((c) => !Number.isNaN(valueAt(itemAt(seconds, c), i))),
  );
  const scatter = Float64Array.from(scale);
  const noise = scatter.slice();
  if (rows.length < Math.max(LEAST, 3 * told.length)) return { scatter, own: noise };
  const own = unshared(
    told.map((c) =>
      Float64Array.from(rows, (i) => {
        const size = valueAt(itemAt(seconds, c), i) / (valueAt(noise, c) * Math.sqrt(6));
        return Math.max(-MOST, Math.min(MOST, size));
      }),
    ),
  );
  for (const [t, c] of told.entries()) noise[c] = valueAt(noise, c) * valueAt(own, t);
  return { scatter, own: noise };
}

function secondDifferences(values: Float64Array, setAside: Uint8Array, count: number) {
  return Float64Array.from({ length: count }, (_, i) => {
    if (i === 0 || i + 1 >= count) return Number.NaN;
    if (setAside[i - 1] !== 0 || setAside[i] !== 0 || setAside[i + 1] !== 0) return Number.NaN;
    return valueAt(values, i - 1) - 2 * valueAt(values, i) + valueAt(values, i + 1);
  });
}

/** For each of c columns the share of its deviation that the others leave: (Σ_dd Σ⁻¹_dd)^−½. */
function unshared(columns: readonly Float64Array[]): Float64Array {
  const c = columns.length;
  const covariance = new Float64Array(c * c);
  for (const [i, one] of columns.entries()) {
    for (const [j, other] of columns.entries()) {
      const sum = one.reduce((total, value, row) => total + value * valueAt(other, row), 0);
      covariance[i * c + j] = sum / one.length + (i === j ? 1e-6 : 0);
    }
  }
  const factor = choleskyFactor(covariance, c);
  return Float64Array.from({ length: c }, (_, d) => {
    const unit = new Float64Array(c);
    unit[d] = 1;
    const inverse = valueAt(choleskySolve(factor, c, unit), d);
    return 1 / Math.sqrt(inverse * valueAt(covariance, d * c + d));
  });
}
