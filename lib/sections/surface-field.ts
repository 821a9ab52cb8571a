import type { Corner, Outline } from "../earth/embankment/outline.js";
import { minimalResidual } from "../numerics/algebra/minimal-residual.js";
import { firstOf } from "../numerics/arrays.js";
import { besselK0, besselK1 } from "../numerics/functions/modified-bessel.js";

/** Potential of a point source in the wavenumber domain along strike, at the outline's points. */
export interface SurfaceField {
  readonly outline: Outline;
  readonly source: Corner;
  readonly k_per_m: number;
  readonly potential: Float64Array;
}

/**
 * The field of a point source on a straight stretch of the surface of homogeneous ground, in units
 * in which flat ground gives K0(k r), that is 1/r in space.
 *
 * Green's identity on the surface, with no current through it: φ/2 + ∫ φ ∂G/∂n ds = K0(k r)/2 with
 * G = K0(k r)/2π. On a straight side the kernel vanishes, so that quadrature points serve as
 * collocation points (Nyström's method); what is solved for is the smooth φ − K0.
 */
export function surfaceField(outline: Outline, source: Corner, k_per_m: number): SurfaceField {
  const count = outline.x.length;
  const primary = Float64Array.from(outline.x, (x, j) =>
    besselK0(k_per_m * Math.hypot(x - source.x, outline.z[j]! - source.z)),
  );
  const kernel = new Float64Array(count * count);
  for (let i = 0; i < count; i++) {
    const row = kernel.subarray(i * count, (i + 1) * count);
    kernelRow(outline, { x: outline.x[i]!, z: outline.z[i]! }, { k_per_m, row });
  }
  const twice = times(kernel, primary).map((value) => -2 * value);
  const operator = (x: Float64Array) => times(kernel, x).map((value, i) => x[i]! + 2 * value);
  const secondary = minimalResidual(operator, twice, { tolerance: 1e-8, maxSteps: 150 });
  return { outline, source, k_per_m, potential: secondary.map((value, i) => value + primary[i]!) };
}

/** Potential less that over flat ground, K0(k r), at a point of the surface that is no corner. */
export function secondaryAt({ outline, k_per_m, potential }: SurfaceField, at: Corner): number {
  const row = new Float64Array(potential.length);
  kernelRow(outline, at, { k_per_m, row });
  return -2 * firstOf(times(row, potential));
}

interface KernelTarget {
  readonly k_per_m: number;
  readonly row: Float64Array;
}

/** Weight × ∂G/∂n at each point of the outline, seen from `at`. */
function kernelRow(outline: Outline, at: Corner, { k_per_m: k, row }: KernelTarget): void {
  const { x, z, normalX, normalZ, weight } = outline;
  for (let j = 0; j < x.length; j++) {
    const dx = x[j]! - at.x;
    const dz = z[j]! - at.z;
    const r = Math.sqrt(dx * dx + dz * dz);
    const across = dx * normalX[j]! + dz * normalZ[j]!;
    const none = Math.abs(across) <= 1e-9 * r || k * r > 50;
    row[j] = none ? 0 : (-weight[j]! * k * besselK1(k * r) * across) / (2 * Math.PI * r);
  }
}

/** A matrix, row by row, times a vector. */
function times(matrix: Float64Array, x: Float64Array): Float64Array {
  const n = x.length;
  return Float64Array.from({ length: matrix.length / n }, (_, i) => {
    let sum = 0;
    for (let j = 0; j < n; j++) sum += matrix[i * n + j]! * x[j]!;
    return sum;
  });
}
