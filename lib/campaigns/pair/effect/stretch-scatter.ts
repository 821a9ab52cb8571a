import { itemAt, zipped } from "../../../numerics/arrays.js";
import { huberScale } from "../../../numerics/statistics/huber-scale.js";
import { presentMean } from "../../../numerics/statistics/present.js";
import type { Significance } from "../find-significant.js";

/** A window counts where at least this share of its stations is stable and present. */
const ENOUGH = 0.8;
/** Under so many windows side by side, shorter ones are measured and scaled. */
const LEAST_WINDOWS = 8;
/** From so many on the measured scatter stands by itself, stated errors or not. */
const TRUSTED_WINDOWS = 12;

/**
 * Covariance of the mean difference over `length` stations where nothing changed: the robust
 * covariance of moving means over stable stations (of standardised sums and differences,
 * Gnanadesikan & Kettenring 1972), which includes errors that neighbours or slices share and those
 * of position. With fewer than twelve such stretches it is at least that of independent errors of
 * single stations: the estimates' own, or the scatter of single stations where that is less, since
 * an estimate's error follows from its noise model and not from repeats. Where the stable line is
 * short, shorter means are measured and scaled by the root of length; few windows widen the result
 * as Student's t does. The level that was taken off is the median of the stable line, whose own
 * variance (π/2 times that of a mean) is added.
 */
export function stretchScatter(
  { levelled, stable }: Significance,
  ownSd: readonly Float64Array[],
  length: number,
): Float64Array {
  const k = levelled.length;
  const stableCount = Math.min(...stable.map((row) => row.reduce((sum, v) => sum + v, 0)));
  const measured = Math.max(1, Math.min(length, Math.floor(stableCount / LEAST_WINDOWS)));
  const independent = stableCount / measured;
  const widened = independent > 4 ? independent / (independent - 2) : 2;
  const ofLevel = ((Math.PI / 2) * measured) / Math.max(1, stableCount);
  const slices = zipped(zipped(levelled, stable), ownSd).map(([[column, steady], sd]) => {
    const mean = windowMeans(column, steady, measured);
    const scatter = huberScale(mean) || 0;
    if (independent >= TRUSTED_WINDOWS && scatter > 0) return { mean, scale: scatter };
    const single = huberScale(windowMeans(column, steady, 1));
    return { mean, scale: Math.max(ownScale(sd, single) / Math.sqrt(measured), scatter) };
  });
  const covariance = new Float64Array(k * k);
  for (const [a, one] of slices.entries()) {
    for (const [b, other] of slices.slice(0, a + 1).entries()) {
      const r = a === b ? 1 : robustCorrelation(one, other);
      const value = r * one.scale * other.scale * widened * (measured / length + ofLevel);
      covariance[a * k + b] = value;
      covariance[b * k + a] = value;
    }
  }
  return covariance;
}

/** The error of a single station: as stated, or the single stations' scatter where that is less. */
function ownScale(sd: Float64Array, single: number): number {
  const stated = Math.sqrt(presentMean(sd.map((value) => value * value)) || 0);
  return Math.min(stated, single > 0 ? single : stated);
}

/** Means over `length` consecutive stations; NaN where too few of them are stable and present. */
function windowMeans(column: Float64Array, stable: Float64Array, length: number): Float64Array {
  const n = column.length;
  const out = new Float64Array(Math.max(0, n - length + 1)).fill(Number.NaN);
  let sum = 0;
  let count = 0;
  for (let i = 0; i < n; i++) {
    if (stable[i] === 1 && !Number.isNaN(column[i]!)) [sum, count] = [sum + column[i]!, count + 1];
    const old = i - length;
    if (old >= 0 && stable[old] === 1 && !Number.isNaN(column[old]!)) {
      [sum, count] = [sum - column[old]!, count - 1];
    }
    if (i >= length - 1 && count >= ENOUGH * length) out[i - length + 1] = sum / count;
  }
  return out;
}

interface SliceMeans {
  readonly mean: Float64Array;
  readonly scale: number;
}

function robustCorrelation(one: SliceMeans, other: SliceMeans): number {
  const combined = (side: 1 | -1) =>
    huberScale(
      one.mean.map((v, i) => v / one.scale + (side * itemAt(other.mean, i)) / other.scale),
    ) ** 2;
  const [sum, difference] = [combined(1), combined(-1)];
  const r = (sum - difference) / (sum + difference);
  return Number.isNaN(r) ? 0 : Math.max(-0.95, Math.min(0.95, r));
}
