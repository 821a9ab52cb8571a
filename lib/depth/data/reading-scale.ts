/**
 * The scale on which readings are compared: asinh(value / knee), near the logarithm above the knee
 * and linear below it. With the knee at floor / share, noise of sqrt(floor² + (share · value)²) is
 * `share` everywhere on it, and a response is nearly linear in ln conductivity.
 */
export const scaled = (value_ppm: number, knee_ppm: number) => Math.asinh(value_ppm / knee_ppm);

/** Change of the scaled value for one ppm. */
export const scaledSlope = (value_ppm: number, knee_ppm: number) =>
  1 / Math.hypot(value_ppm, knee_ppm);
