/** Medians of chi-square variables of one to three degrees of freedom. */
export const MEDIAN = [0.45494, 1.38629, 2.36597];

/**
 * Noise of stretches by length: as measured where there are many side by side, going on as it grew
 * where there are few, never falling with length, and wider for the few.
 */
export function inflations(
  measured: readonly { readonly scale: number; readonly windows: number }[],
): Float64Array {
  let [last, growth] = [1, 1];
  return Float64Array.from(measured, ({ scale, windows }) => {
    const known = windows >= 4 && scale > 0;
    const own = known ? scale * (1 + 2 / windows) : last * growth;
    const next = Math.max(last, own);
    growth = Math.min(1.33, Math.max(1, Math.sqrt(growth * (next / last))));
    last = next;
    return next;
  });
}
