import type { CoilGeometry } from "../../earth/coil-quadrature.js";

/** Share of a layer's response that comes from chainages below x, the coils' middle at 0, m. */
export type Footprint = (x_m: number) => number;

const NODES = 241;
const REACH = 7;
const ACROSS = 40;

/**
 * Where along the line the response of a thin layer at a depth comes from, at low induction.
 *
 * A small change of conductivity at a point shows in proportion to the product of the electric
 * fields that the two coils would have there. Both are horizontal and of the form ẑ × ∇Φ, with Φ =
 * 1/R for a horizontal coil and −∂/∂n ln(R + Z) for one whose axis points along n; their product,
 * added up across the line, is the kernel that is accumulated here. Added up along the line too, it
 * is the relative response by depth of McNeill 1980 (see `cumulativeResponse`).
 *
 * The target is as wide as the ground across the line. Source: reciprocity, Born's approximation;
 * Wait 1982, Geo-electromagnetism, for the fields; worked out here.
 */
export function footprint(coils: CoilGeometry, depth_m: number): Footprint {
  const z = Math.max(depth_m + coils.height_m, 0.02 * coils.separation_m);
  const scale = 0.5 * Math.hypot(coils.separation_m / 2, z);
  const step = (2 * REACH) / (NODES - 1);
  const at = Float64Array.from({ length: NODES }, (_, i) => scale * Math.sinh(i * step - REACH));
  const sum = new Float64Array(NODES);
  let before = acrossTheLine(coils, at[0]!, z);
  for (let i = 1; i < NODES; i++) {
    const here = acrossTheLine(coils, at[i]!, z);
    sum[i] = sum[i - 1]! + ((before + here) / 2) * (at[i]! - at[i - 1]!);
    before = here;
  }
  const whole = sum[NODES - 1]!;
  return (x_m) => {
    const place = (Math.asinh(x_m / scale) + REACH) / step;
    if (!(place > 0)) return Number.isNaN(place) ? Number.NaN : 0;
    if (place >= NODES - 1) return 1;
    const i = Math.floor(place);
    return (sum[i]! + (place - i) * (sum[i + 1]! - sum[i]!)) / whole;
  };
}

/** The kernel at one chainage, added up across the line. */
export function acrossTheLine(coils: CoilGeometry, x: number, z: number): number {
  const { orientation, separation_m: s } = coils;
  const step = REACH / ACROSS;
  let sum = 0;
  for (let k = 0; k <= ACROSS; k++) {
    const y = z * Math.sinh(k * step);
    const share = (k === 0 || k === ACROSS ? 0.5 : 1) * z * Math.cosh(k * step) * step;
    const one = gradient(orientation === "VCP" ? "y" : "z", [x + s / 2, y, z]);
    const axis = orientation === "HCP" ? "z" : orientation === "VCP" ? "y" : "x";
    const other = gradient(axis, [x - s / 2, y, z]);
    sum += share * (one[0] * other[0] + one[1] * other[1]);
  }
  return 2 * sum;
}

type Pair = readonly [number, number];

/** ∂Φ/∂x and ∂Φ/∂y of a coil with its axis along x, y or z, up to a common factor. */
function gradient(axis: "x" | "y" | "z", [x, y, z]: readonly [number, number, number]): Pair {
  const r = Math.sqrt(x * x + y * y + z * z);
  if (axis === "z") return [-x / r ** 3, -y / r ** 3];
  // Φ = n/(R(R + Z)), n the coordinate along the axis; its sign does not matter.
  const low = r * (r + z);
  const steep = (2 * r + z) / (r * low * low);
  return axis === "x"
    ? [1 / low - x * x * steep, -x * y * steep]
    : [-x * y * steep, 1 / low - y * y * steep];
}
