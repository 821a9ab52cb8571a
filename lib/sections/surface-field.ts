import { solveDense } from "./dense-solve.js";
import { besselK0, besselK1 } from "./modified-bessel.js";
import type { Corner, Outline } from "./outline.js";

/**
 * Potential on the surface of homogeneous ground for a point source on a level or straight stretch of
 * it, in the wavenumber domain along strike, less the potential K0(k r) over flat ground; returned at
 * the source itself. In units in which flat ground gives 1/r in space.
 *
 * Green's identity on the surface, with no current through it: φ/2 + ∫ φ ∂G/∂n ds = K0(k r)/2 with
 * G = K0(k r)/2π. On a straight side the kernel vanishes, so quadrature points serve as collocation
 * points, and the singular K0 is known.
 */
export function secondaryAtSource(outline: Outline, source: Corner, k: number): number {
  const count = outline.x.length;
  const primary = Float64Array.from(outline.x, (x, j) =>
    besselK0(k * Math.hypot(x - source.x, outline.z[j]! - source.z)),
  );
  const matrix = new Float64Array(count * count);
  const secondary = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const row = matrix.subarray(i * count, (i + 1) * count);
    kernelRow(outline, { x: outline.x[i]!, z: outline.z[i]! }, k, row);
    secondary[i] = -dot(row, primary);
    row[i] = row[i]! + 0.5;
  }
  solveDense(matrix, secondary);
  const row = new Float64Array(count);
  kernelRow(outline, source, k, row);
  return -2 * (dot(row, primary) + dot(row, secondary));
}

/** Weight × ∂G/∂n at each point of the outline, seen from `at`. */
function kernelRow(outline: Outline, at: Corner, k: number, row: Float64Array): void {
  const { x, z, normalX, normalZ, weight } = outline;
  for (let j = 0; j < x.length; j++) {
    const dx = x[j]! - at.x;
    const dz = z[j]! - at.z;
    const r = Math.hypot(dx, dz);
    const across = dx * normalX[j]! + dz * normalZ[j]!;
    const straight = Math.abs(across) <= 1e-9 * r || k * r > 60;
    row[j] = straight ? 0 : (-weight[j]! * k * besselK1(k * r) * across) / (2 * Math.PI * r);
  }
}

function dot(p: Float64Array, q: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < p.length; i++) sum += p[i]! * q[i]!;
  return sum;
}
