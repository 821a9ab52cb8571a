/** Medians of chi-square variables of one to three degrees of freedom. */
export const MEDIAN = [0.45494, 1.38629, 2.36597];

interface Measured {
  /** Stations. */
  readonly length: number;
  readonly scale: number;
  /** Side by side. */
  readonly windows: number;
}

/**
 * Noise of stretches by length: as measured where there are many side by side, going on as it grew
 * where there are few, never falling with length, and wider for the few. A mean over a longer stretch
 * of stationary noise never scatters more than one over a shorter, so that noise grows no faster than
 * the length: what grows faster is a change that fills many of the longer stretches.
 */
export function inflations(measured: readonly Measured[]): Float64Array {
  let [bare, last, growth, before] = [Number.POSITIVE_INFINITY, 1, 1, 1];
  return Float64Array.from(measured, ({ length, scale, windows }) => {
    const known = windows >= 4 && scale > 0;
    const stationary = Math.min(scale, (bare * length) / before);
    const own = known ? stationary * (1 + 2 / windows) : last * growth;
    const next = Math.max(last, own);
    growth = Math.min(1.33, Math.max(1, Math.sqrt(growth * (next / last))));
    if (known) [bare, before] = [Math.max(1, stationary), length];
    last = next;
    return next;
  });
}
