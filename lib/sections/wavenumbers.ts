/** Nodes and weights of ∫₀^∞ f(k) dk for potentials in the wavenumber domain. */
export interface Wavenumbers {
  /** Ascending, 1/m. */
  readonly k_per_m: Float64Array;
  readonly weight: Float64Array;
}

/** Distances that the inverse transform must serve, m, and the step between nodes in ln k. */
export interface WavenumberRange {
  readonly nearest_m: number;
  readonly farthest_m: number;
  readonly step: number;
}

/**
 * The trapezoidal rule in ln k. With k = eᵘ the integrand k K0(k r) is analytic in a strip of half
 * width π/2, so the error falls as exp(−π²/step). Below the first node the integrand follows
 * A + B ln k (the potential of a line source), whose remaining terms are summed in closed form.
 */
export function wavenumbers({ nearest_m, farthest_m, step }: WavenumberRange): Wavenumbers {
  const low = Math.log(0.02 / farthest_m);
  const count = Math.ceil((Math.log(10 / nearest_m) - low) / step) + 1;
  const k = Float64Array.from({ length: count }, (_, i) => Math.exp(low + i * step));
  const weight = k.map((value) => value * step);
  const q = Math.exp(-step);
  const sum0 = q / (1 - q);
  const sum1 = q / (1 - q) ** 2;
  weight[0] = k[0]! * step * (1 + sum0 + sum1);
  weight[1] = weight[1]! - k[0]! * step * sum1;
  return { k_per_m: k, weight };
}
