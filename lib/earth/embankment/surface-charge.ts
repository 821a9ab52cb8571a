import { minimalResidual } from "../../numerics/minimal-residual.js";
import { besselK1 } from "../../numerics/modified-bessel.js";
import type { Outline } from "./outline.js";

/** Finds, for one wavenumber, the charge on a ground surface from what it has to hold back. */
export type ChargeSolver = (flux: Float64Array) => Float64Array;

/**
 * The density μ on the outline whose potential u = ∫ μ K0(kr)/2π ds has, from within the ground, the
 * outward derivative `flux` at the outline's points: μ/2 + ∫ μ ∂G/∂n ds = flux.
 *
 * On a straight side the kernel vanishes, so that quadrature points serve as collocation points
 * (Nyström's method).
 */
export function chargeSolver(outline: Outline, k_per_m: number): ChargeSolver {
  const count = outline.x.length;
  const kernel = new Float64Array(count * count);
  for (let i = 0; i < count; i++) {
    fillNormalRow(kernel.subarray(i * count, (i + 1) * count), outline, [i, k_per_m]);
  }
  const operator = (x: Float64Array) => {
    return Float64Array.from(x, (value, i) => {
      let sum = 0;
      for (let j = 0; j < count; j++) sum += kernel[i * count + j]! * x[j]!;
      return value + 2 * sum;
    });
  };
  return (flux) => {
    const twice = flux.map((value) => 2 * value);
    return minimalResidual(operator, twice, { tolerance: 1e-7, maxSteps: 100 });
  };
}

/** Weight × ∂G/∂n at point `i`, for each point of the outline. */
function fillNormalRow(row: Float64Array, outline: Outline, [i, k]: [number, number]): void {
  const { x, z, normalX, normalZ, weight } = outline;
  for (let j = 0; j < x.length; j++) {
    const dx = x[i]! - x[j]!;
    const dz = z[i]! - z[j]!;
    const r = Math.sqrt(dx * dx + dz * dz);
    const across = dx * normalX[i]! + dz * normalZ[i]!;
    const none = Math.abs(across) <= 1e-9 * r || k * r > 40;
    row[j] = none ? 0 : (-weight[j]! * k * besselK1(k * r) * across) / (2 * Math.PI * r);
  }
}
