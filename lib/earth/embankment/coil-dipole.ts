import { gaussLegendre } from "../../numerics/functions/gauss-legendre.js";
import { besselK0, besselK1 } from "../../numerics/functions/modified-bessel.js";
import type { CoilOrientation } from "../coil-quadrature.js";

/**
 * The primary field of a coil below it, as ground without relief takes it up.
 *
 * The vector potential is A = ∇χ × ẑ with χ harmonic, so that A has no vertical part: on level
 * ground −iωA is the electric field itself, charges on the surface included. With Z the depth below
 * the coil, r the distance, y along the line and m/4π left out, the axis upright has χ = 1/r,
 * across the line χ = −x/(r(r + Z)), along it χ = −y/(r(r + Z)).
 */
export type DipoleAxis = "upright" | "across" | "along";

/** The axes of transmitter and receiver. */
export const AXES: Readonly<Record<CoilOrientation, readonly [DipoleAxis, DipoleAxis]>> = {
  HCP: ["upright", "upright"],
  VCP: ["across", "across"],
  PRP: ["upright", "along"],
};

/** Where the potential is asked for: horizontally across from the coil, and below it, m. */
export interface BelowCoil {
  readonly x: number;
  readonly depth: number;
}

/** The horizontal gradient of χ at y from the coil, into `out`. */
export function streamGradient(
  axis: DipoleAxis,
  { x, y, depth }: BelowCoil & { readonly y: number },
  out: Float64Array,
): void {
  const r = Math.sqrt(x * x + y * y + depth * depth);
  if (axis === "upright") {
    out[0] = -x / (r * r * r);
    out[1] = -y / (r * r * r);
    return;
  }
  const f = 1 / (r * (r + depth));
  const g = f * f * (2 + depth / r);
  out[0] = axis === "across" ? x * x * g - f : x * y * g;
  out[1] = axis === "across" ? x * y * g : y * y * g - f;
}

const RULE = gaussLegendre(24);
/** exp(−FADED) leaves nothing. */
const FADED = 40;

/**
 * The transform of χ along the line, ∫ χ exp(−iky) dy; along the line without its factor ik.
 *
 * Upright 2 K0(kρ), along 2 ∫ K0(kρ) dZ from the depth on down, across the same integral's
 * derivative by x.
 */
export function streamTransform(axis: DipoleAxis, at: BelowCoil, k: number): number {
  const near = Math.hypot(at.x, at.depth);
  if (k * near > FADED) return 0;
  if (axis === "upright") return 2 * besselK0(k * near);
  // Depths near·(e^v − 1) below: the integrand varies on the scale of `near`, then fades over 1/k.
  const half = Math.log1p(FADED / (k * near)) / 2;
  let sum = 0;
  for (let i = 0; i < RULE.node.length; i++) {
    const v = half * (1 + RULE.node[i]!);
    const r = Math.hypot(at.x, at.depth + near * Math.expm1(v));
    const value = axis === "along" ? besselK0(k * r) : (-k * at.x * besselK1(k * r)) / r;
    sum += RULE.weight[i]! * half * near * Math.exp(v) * value;
  }
  return 2 * sum;
}
