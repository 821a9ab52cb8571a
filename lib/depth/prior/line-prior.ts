import { type LayerPrior, type LayerPriorOptions, layerPrior } from "./layer-prior.js";

/** How unlike neighbours are believed to be before the data: down the layers and along the bank. */
export interface Strengths extends LayerPriorOptions {
  /** Distance along the bank over which the ground resembles itself, m. */
  readonly along_m: number;
}

/**
 * Gaussian Markov random field on ln conductivity: every column has the prior of `layerPrior`, and
 * columns d metres apart resemble each other by exp(−d / along): covariance(layers) × e^(−d/along).
 *
 * In whitened unknowns x_i = mean + L ξ_i it is one first-order autoregression for each unknown of
 * a column, of unit variance, so that its precision is tridiagonal. Source: Rue & Held 2005,
 * Gaussian Markov Random Fields, section 1.1 (autoregression); Auken & Christiansen 2004 (laterally
 * constrained layers).
 */
export interface LinePrior {
  readonly layers: LayerPrior;
  readonly strengths: Strengths;
  /** Correlation of neighbouring stations, 0 to 1. */
  readonly alike: number;
}

export function linePrior(top_m: Float64Array, strengths: Strengths, spacing_m: number): LinePrior {
  return {
    layers: layerPrior(top_m, strengths),
    strengths,
    alike: Math.exp(-spacing_m / strengths.along_m),
  };
}

/** Diagonal entry of the whitened precision at station i of n. */
export function precisionAt(alike: number, i: number, n: number): number {
  if (n === 1) return 1;
  const ends = i === 0 || i === n - 1;
  return (ends ? 1 : 1 + alike * alike) / (1 - alike * alike);
}

/** Entry of the whitened precision between neighbours. */
export function precisionBetween(alike: number): number {
  return -alike / (1 - alike * alike);
}

/** Q u for u of n × q, row by station, each unknown of a station with its own correlation. */
export function timesPrecision(u: Float64Array, alike: Float64Array): Float64Array {
  const q = alike.length;
  const n = u.length / q;
  const out = new Float64Array(u.length);
  for (let j = 0; j < q; j++) {
    const between = precisionBetween(alike[j]!);
    for (let i = 0; i < n; i++) {
      const at = i * q + j;
      let sum = precisionAt(alike[j]!, i, n) * u[at]!;
      if (i > 0) sum += between * u[at - q]!;
      if (i + 1 < n) sum += between * u[at + q]!;
      out[at] = sum;
    }
  }
  return out;
}

/** The correlations of a station's q unknowns: layers first, then the walks' errors. */
export function correlations(
  prior: LinePrior,
  { m, q, walkAlike }: { readonly m: number; readonly q: number; readonly walkAlike: number },
): Float64Array {
  return new Float64Array(q).fill(prior.alike, 0, m).fill(walkAlike, m);
}

/** ln det of the whitened precision of n stations. */
export function logDeterminant(alike: Float64Array, n: number): number {
  return alike.reduce((sum, value) => sum - (n - 1) * Math.log(1 - value * value), 0);
}

/** x = mean + L ξ, n × m, from n × q unknowns whose first m are ξ. */
export function toModel(
  prior: LayerPrior,
  mean: number,
  { u, q }: { readonly u: Float64Array; readonly q: number },
): Float64Array {
  const m = prior.variance.length;
  const n = u.length / q;
  const out = new Float64Array(n * m);
  for (let s = 0; s < n; s++) {
    for (let i = 0; i < m; i++) {
      let sum = mean;
      for (let j = 0; j <= i; j++) sum += prior.factor[i * m + j]! * u[s * q + j]!;
      out[s * m + i] = sum;
    }
  }
  return out;
}

/** Writes ξ = L⁻¹ (x − mean) of an n × m model into the first m of n × q unknowns. */
export function fromModel(
  prior: LayerPrior,
  x: Float64Array,
  { mean, u, q }: { readonly mean: number; readonly u: Float64Array; readonly q: number },
): Float64Array {
  const m = prior.variance.length;
  const out = u.slice();
  for (let s = 0; s < x.length / m; s++) {
    for (let i = 0; i < m; i++) {
      let sum = x[s * m + i]! - mean;
      for (let j = 0; j < i; j++) sum -= prior.factor[i * m + j]! * out[s * q + j]!;
      out[s * q + i] = sum / prior.factor[i * m + i]!;
    }
  }
  return out;
}
