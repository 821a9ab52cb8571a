import { minimalResidual } from "../../numerics/algebra/minimal-residual.js";
import { besselK1 } from "../../numerics/functions/modified-bessel.js";
import type { Outline } from "./outline.js";

/** Finds the charge on a ground surface from the flux that it has to hold back. */
export type ChargeSolver = (flux: Float64Array) => Float64Array;

/**
 * By wavenumber, the density μ on the outline whose potential u = ∫ μ K0(kr)/2π ds has, from within
 * the ground, the outward derivative `flux` at the outline's points: μ/2 + ∫ μ ∂G/∂n ds = flux.
 *
 * On a straight side the kernel vanishes, so that quadrature points serve as collocation points
 * (Nyström's method). One matrix is filled anew for each wavenumber: a solver lasts until the next.
 */
export function chargeSolvers(outline: Outline): (k_per_m: number) => ChargeSolver {
  const count = outline.x.length;
  const kernel = new Float64Array(count * count);
  return (k_per_m) => {
    for (let i = 0; i < count; i++) {
      fillNormalRow(kernel.subarray(i * count, (i + 1) * count), outline, [i, k_per_m]);
    }
    return (flux) => {
      const twice = flux.map((value) => 2 * value);
      return minimalResidual((x) => identityAndTwice(kernel, x), twice, SOLVE);
    };
  };
}

const SOLVE = { tolerance: 1e-7, maxSteps: 100 };

function identityAndTwice(kernel: Float64Array, x: Float64Array): Float64Array {
  const count = x.length;
  const result = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let sum = 0;
    for (let j = 0, at = i * count; j < count; j++, at++) sum += kernel[at]! * x[j]!;
    result[i] = x[i]! + 2 * sum;
  }
  return result;
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
