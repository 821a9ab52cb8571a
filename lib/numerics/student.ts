/**
 * P(|T| > |t|) of Student's t with a whole number of degrees of freedom, to about 1e-12 relative
 * while it is over 1e-9. NaN gives NaN. Throws a RangeError for `dof` that is not a whole number of
 * 1 or above.
 *
 * Source: Abramowitz & Stegun 1964, 26.7.3 and 26.7.4.
 *
 * @example studentTwoSided(12.706204736432095, 1); // 0.05
 */
export function studentTwoSided(t: number, dof: number): number {
  if (!(Number.isInteger(dof) && dof >= 1)) {
    throw new RangeError(`dof must be a whole number of 1 or above, got ${dof}`);
  }
  if (Math.abs(t) === Number.POSITIVE_INFINITY) return 0;
  const angle = Math.atan2(Math.abs(t), Math.sqrt(dof));
  const [sine, cosine] = [Math.sin(angle), Math.cos(angle)];
  const odd = dof % 2 === 1;
  let term = odd ? cosine : 1;
  let sum = dof === 1 ? 0 : term;
  for (let k = odd ? 3 : 2; k <= dof - 2; k += 2) {
    term *= ((k - 1) / k) * cosine * cosine;
    sum += term;
  }
  const within = odd ? (2 / Math.PI) * (angle + sine * sum) : sine * sum;
  return Math.max(0, 1 - within);
}

/**
 * The t that |T| exceeds with the given two-sided probability, 1e-8 … 1; by bisection to 1e-12
 * relative.
 *
 * @example studentPoint(0.1, 4); // 2.13184678633
 */
export function studentPoint(twoSided: number, dof: number): number {
  let [low, high] = [0, 1];
  while (studentTwoSided(high, dof) > twoSided) high *= 2;
  while (high - low > 1e-13 * high) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (studentTwoSided(middle, dof) > twoSided) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
