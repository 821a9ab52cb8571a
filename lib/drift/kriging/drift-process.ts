/** Random drift: a Gaussian process of unit rate or unit size, 0 at its start. */
export interface DriftProcess {
  /** Covariance of the drift at two times, h after its start. */
  readonly covariance: (one_h: number, other_h: number) => number;
}

/** A process that is a drift model of its own, about a straight line that is not known. */
export interface NamedProcess extends DriftProcess {
  readonly name: "random-walk" | "smoothing-spline";
  /** Variance half-way through `span_h` where the line through both ends is known. */
  readonly bridgeVariance: (span_h: number) => number;
}

/** Independent increments of the level (Brownian motion). */
export const randomWalk: NamedProcess = {
  name: "random-walk",
  covariance: (one_h, other_h) => Math.max(0, Math.min(one_h, other_h)),
  bridgeVariance: (span_h) => span_h / 4,
};

/** Independent increments of the slope: its mean is the cubic smoothing spline (Wahba 1978). */
export const smoothingSpline: NamedProcess = {
  name: "smoothing-spline",
  covariance: (one_h, other_h) => {
    const [less, more] = one_h < other_h ? [one_h, other_h] : [other_h, one_h];
    return less > 0 ? (less * less * (3 * more - less)) / 6 : 0;
  },
  // Variance of W(T/2) − W(T)/2: T³/24 + T³/12 − 5T³/48.
  bridgeVariance: (span_h) => span_h ** 3 / 48,
};

/** A random walk whose rise over `span_h` has unit variance. */
export function wandering(span_h: number): DriftProcess {
  return { covariance: (one_h, other_h) => randomWalk.covariance(one_h, other_h) / span_h };
}

/** A straight line whose rise over `span_h` has unit variance. */
export function straightLine(span_h: number): DriftProcess {
  return { covariance: (one_h, other_h) => (one_h * other_h) / (span_h * span_h) };
}

/**
 * One exponential approach, as electronics warm up; 63 % of it done `after_h`, and of unit variance
 * over `span_h`.
 */
export function warmUp(after_h: number, span_h: number): DriftProcess {
  const full = 1 - Math.exp(-span_h / after_h);
  const rise = (h: number) => (h > 0 ? (1 - Math.exp(-h / after_h)) / full : 0);
  return { covariance: (one_h, other_h) => rise(one_h) * rise(other_h) };
}

/** A step of unit variance after `step_h`. */
export function stepping(step_h: number): DriftProcess {
  return { covariance: (one_h, other_h) => (one_h > step_h && other_h > step_h ? 1 : 0) };
}

/**
 * A smooth process of unit variance with a squared-exponential covariance of length `scale_h`, as
 * the air's temperature has; less its value at the start, as the level beside it is free.
 */
export function swinging(scale_h: number): DriftProcess {
  const correlation = (apart_h: number) => Math.exp(-0.5 * (apart_h / scale_h) ** 2);
  return {
    covariance: (one_h, other_h) =>
      correlation(one_h - other_h) - correlation(one_h) - correlation(other_h) + 1,
  };
}
