import { dot } from "../../numerics/algebra/dot.js";
import type { Outline } from "./outline.js";
import { fillLayerRow, layerRow } from "./single-layer.js";

/** A field on a line: its potential, and that one's derivative by z. */
interface LineField {
  readonly potential: Float64Array;
  readonly rise: Float64Array;
}

/** What each of the surface's charges gives on a line within the ground. */
export function lineFields(
  surface: Outline,
  charges: readonly Float64Array[],
  [line, k]: [Outline, number],
): LineField[] {
  const count = line.x.length;
  const values = charges.map(() => ({
    potential: new Float64Array(count),
    rise: new Float64Array(count),
  }));
  const row = layerRow(surface.x.length);
  for (let i = 0; i < count; i++) {
    fillLayerRow(row, surface, [{ x: line.x[i]!, z: line.z[i]! }, k]);
    for (const [f, charge] of charges.entries()) {
      values[f]!.potential[i] = dot(row.potential, charge);
      values[f]!.rise[i] = dot(row.rise, charge);
    }
  }
  return values;
}

interface BelowBase {
  readonly both: readonly (readonly number[])[];
  readonly k: number;
  /** Of the level below the base, m. */
  readonly drop_m: number;
}

/**
 * ∫ φ₁ ∂φ₂/∂z dx of a level below the base. Below it the field is that of the current q through it
 * alone, so the integral is ∫∫ q₁ q₂ K0(kr)/π dx dx', r to a mirror image twice the drop below.
 */
export function belowBase(
  base: Outline,
  onBase: readonly LineField[],
  { both, k, drop_m }: BelowBase,
) {
  const image = onBase.map(() => new Float64Array(base.x.length));
  const row = layerRow(base.x.length);
  for (let i = 0; i < base.x.length; i++) {
    fillLayerRow(row, base, [{ x: base.x[i]!, z: base.z[i]! - 2 * drop_m }, k]);
    for (const [f, { rise }] of onBase.entries()) image[f]![i] = 2 * dot(row.potential, rise);
  }
  return both.map(([a, b]) => product(base.weight, image[a!]!, onBase[b!]!.rise));
}

export function product(weight: Float64Array, a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += weight[i]! * a[i]! * b[i]!;
  return sum;
}
