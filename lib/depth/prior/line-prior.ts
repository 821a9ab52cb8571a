import type { GroundVariation } from "../../planning/scene/ground-variation.js";
import { type LayerPrior, layerPrior } from "./layer-prior.js";

/** Hyperparameters of the prior: standard deviations, and correlation lengths. */
export interface PriorHyperparameters extends GroundVariation {
  /** Correlation length along the bank, m. */
  readonly along_m: number;
}

/**
 * Gaussian Markov random field on ln conductivity: every column has the prior of `layerPrior`, and
 * columns d metres apart have the covariance of the layers × e^(−d / along).
 *
 * In whitened unknowns x_i = mean + L ξ_i it is one first-order autoregression for each unknown of
 * a column, of unit variance, so that its precision is tridiagonal. Source: Rue & Held 2005,
 * Gaussian Markov Random Fields, section 1.1 (autoregression); Auken & Christiansen 2004 (laterally
 * constrained layers).
 */
export interface LinePrior {
  readonly layers: LayerPrior;
  readonly hyperparameters: PriorHyperparameters;
  /** Correlation of neighbouring stations, 0 to 1. */
  readonly correlation: number;
}

export function linePrior(
  top_m: Float64Array,
  hyperparameters: PriorHyperparameters,
  spacing_m: number,
): LinePrior {
  return {
    layers: layerPrior(top_m, hyperparameters),
    hyperparameters,
    correlation: Math.exp(-spacing_m / hyperparameters.along_m),
  };
}

/** Diagonal entry of the whitened precision at station i of n. */
export function precisionAt(correlation: number, i: number, n: number): number {
  if (n === 1) return 1;
  const ends = i === 0 || i === n - 1;
  return (ends ? 1 : 1 + correlation * correlation) / (1 - correlation * correlation);
}

/** Entry of the whitened precision between neighbours. */
export function precisionBetween(correlation: number): number {
  return -correlation / (1 - correlation * correlation);
}

/** Q u for u of n × q, row by station, each unknown of a station with its own correlation. */
export function timesPrecision(u: Float64Array, correlation: Float64Array): Float64Array {
  const q = correlation.length;
  const n = u.length / q;
  const out = new Float64Array(u.length);
  for (let j = 0; j < q; j++) {
    const between = precisionBetween(correlation[j]!);
    for (let i = 0; i < n; i++) {
      const at = i * q + j;
      let sum = precisionAt(correlation[j]!, i, n) * u[at]!;
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
  {
    m,
    q,
    walkCorrelation,
  }: { readonly m: number; readonly q: number; readonly walkCorrelation: number },
): Float64Array {
  return new Float64Array(q).fill(prior.correlation, 0, m).fill(walkCorrelation, m);
}

/** ln det of the whitened precision of n stations. */
export function logDeterminant(correlation: Float64Array, n: number): number {
  return correlation.reduce((sum, value) => sum - (n - 1) * Math.log(1 - value * value), 0);
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
