/** How a drift may wander about its straight line: a Gaussian process of unit rate. */
export interface DriftProcess {
  readonly name: "random-walk" | "smoothing-spline";
  /** Covariance of the wander at two times, h after its start. */
  readonly covariance: (one_h: number, other_h: number) => number;
  /** Variance half-way through `span_h` where the line through both ends is known. */
  readonly bend: (span_h: number) => number;
}

/** The level makes small independent steps (Brownian motion). */
export const randomWalk: DriftProcess = {
  name: "random-walk",
  covariance: (one_h, other_h) => Math.max(0, Math.min(one_h, other_h)),
  bend: (span_h) => span_h / 4,
};

/** The slope makes small independent steps: its mean is the cubic smoothing spline (Wahba 1978). */
export const smoothingSpline: DriftProcess = {
  name: "smoothing-spline",
  covariance: (one_h, other_h) => {
    const [less, more] = one_h < other_h ? [one_h, other_h] : [other_h, one_h];
    return less > 0 ? (less * less * (3 * more - less)) / 6 : 0;
  },
  // Variance of W(T/2) − W(T)/2: T³/24 + T³/12 − 5T³/48.
  bend: (span_h) => span_h ** 3 / 48,
};
