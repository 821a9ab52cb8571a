import { MAD_TO_SD, median } from "./robust.js";

const CLIP = 2.5;
/** Mean of min(Z², 2.5²) of a standard normal Z. */
const CLIPPED_VARIANCE = 0.9775599834528064;
const ROUNDS = 60;

/**
 * Scale of values about zero that single outliers hardly move: the s for which the mean of
 * min((x/s)², 2.5²) is what it is for normal values. Nearly as efficient as the root mean square
 * for normal values, where the median absolute deviation needs almost three times as many. NaN is
 * left out; NaN if empty; 0 where more than half are 0. It breaks down where more than about one
 * value in six is an outlier.
 *
 * Source: Huber 1964, Annals of Mathematical Statistics 35, 73–101 (proposal 2).
 *
 * @example huberScale([1, -1, 1, -1, 1, -1, 1, -1, 1, 50]); // 1.59773
 */
export function huberScale(values: ArrayLike<number>): number {
  const present = Float64Array.from(values).filter((value) => !Number.isNaN(value));
  let scale = MAD_TO_SD * median(present.map(Math.abs));
  for (let round = 0; round < ROUNDS && scale > 0; round++) {
    let sum = 0;
    for (const value of present) sum += Math.min((value / scale) ** 2, CLIP * CLIP);
    const step = Math.sqrt(sum / present.length / CLIPPED_VARIANCE);
    scale *= step;
    if (Math.abs(step - 1) < 1e-7) break;
  }
  return scale;
}
