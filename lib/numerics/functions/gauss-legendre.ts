/** Nodes in (−1, 1), rising, and weights that sum to 2. */
export interface GaussRule {
  readonly node: Float64Array;
  readonly weight: Float64Array;
}

/**
 * The Gauss–Legendre rule of n points, exact for polynomials of degree 2n − 1, to about 1e-15.
 *
 * Newton's method on the Legendre polynomial from the usual cosine estimate. Throws a RangeError
 * for n that is not a whole number of 1 or above.
 * Source: Abramowitz & Stegun 1964, 25.4.29; Press et al. 2007, Numerical Recipes, 4.6.
 *
 * @example gaussLegendre(2).node; // [-0.5773502691896, 0.5773502691896]
 */
export function gaussLegendre(n: number): GaussRule {
  if (!(Number.isInteger(n) && n >= 1)) throw new RangeError(`n must be 1 or above, got ${n}`);
  const node = new Float64Array(n);
  const weight = new Float64Array(n);
  for (let i = 0; i < Math.ceil(n / 2); i++) {
    const { at, slope } = legendreRoot(n, Math.cos((Math.PI * (i + 0.75)) / (n + 0.5)));
    node[i] = -at;
    node[n - 1 - i] = at;
    weight[i] = 2 / ((1 - at * at) * slope * slope);
    weight[n - 1 - i] = weight[i]!;
  }
  if (n % 2 === 1) node[(n - 1) / 2] = 0;
  return { node, weight };
}

function legendreRoot(n: number, start: number): { at: number; slope: number } {
  let at = start;
  for (let round = 0; ; round++) {
    let value = 1;
    let before = 0;
    for (let k = 1; k <= n; k++) {
      [value, before] = [((2 * k - 1) * at * value - (k - 1) * before) / k, value];
    }
    const slope = (n * (at * value - before)) / (at * at - 1);
    const step = value / slope;
    if (Math.abs(step) < 1e-15 || round > 20) return { at, slope };
    at -= step;
  }
}
