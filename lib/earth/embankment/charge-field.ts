import { dot } from "../../numerics/algebra/dot.js";
import type { BankSection } from "./bank-section.js";
import { type DipoleAxis, streamTransform } from "./coil-dipole.js";
import { belowBase, lineFields, product } from "./line-field.js";
import type { Outline } from "./outline.js";
import { fillLayerRow, layerRow } from "./single-layer.js";
import { type ChargeSolver, chargeSolvers } from "./surface-charge.js";

/** A coil pair but for its separation: the axes of transmitter and receiver, and their height. */
export interface PairAtHeight {
  readonly axes: readonly [DipoleAxis, DipoleAxis];
  readonly height_m: number;
}

/** What one coil does in a section at one wavenumber. */
interface CoilField {
  readonly key: string;
  /** Of the primary field, at the surface's points. */
  readonly stream: Float64Array;
  readonly charge: Float64Array;
}

/**
 * What the charges on the slopes add to ∫ E₁·E₂ dV below each depth, by the wavenumber k along the
 * line: a row of depths for each pair.
 *
 * E = A + ∇φ, φ harmonic with ∂φ/∂n = −A·n on the surface, and A without vertical part and without
 * divergence. So ∫ (E₁·E₂ − A₁·A₂) dV below a depth is ∫ φ₂ A₁·n ds over the slopes below it and
 * ∫ φ₁ ∂φ₂/∂z dx over its level. With φ = ik u (k² u for an axis along the line) all is real.
 */
export function chargeShares(
  section: BankSection,
  pairs: readonly PairAtHeight[],
): (k_per_m: number) => Float64Array[] {
  const solverAt = chargeSolvers(section.surface);
  return (k) => {
    const fields = coilFields(section, pairs, [solverAt(k), k]);
    const at = (axis: DipoleAxis, { height_m }: PairAtHeight) =>
      fields.findIndex(({ key }) => key === keyOf(axis, height_m));
    const both = pairs.map((pair) => pair.axes.map((axis) => at(axis, pair)));
    const slopes = potentialsOnSlopes(section.surface, fields, k);
    const levels = levelProducts(section, { fields, both, k });
    return both.map(([a, b], p) => {
      const power = inPhaseAlong(pairs[p]!.axes) ? k ** 2 : k ** 3;
      const held = slopes[b!]!.map(
        (u, i) => u * fields[a!]!.stream[i]! * section.surface.normalX[i]!,
      );
      return Float64Array.from(section.slopesBelow, (below, d) => {
        return power * (levels[d]![p]! + dot(below, held));
      });
    });
  };
}

/**
 * Whether the product of the two fields is even along the line; where it is odd, a sine is left.
 */
export function inPhaseAlong([a, b]: readonly [DipoleAxis, DipoleAxis]): boolean {
  return (a === "along") === (b === "along");
}

function keyOf(axis: DipoleAxis, height_m: number): string {
  return `${axis} ${height_m}`;
}

function coilFields(
  { surface }: BankSection,
  pairs: readonly PairAtHeight[],
  [solve, k]: [ChargeSolver, number],
): CoilField[] {
  const wanted = new Map<string, readonly [DipoleAxis, number]>();
  for (const { axes, height_m } of pairs) {
    for (const axis of axes) wanted.set(keyOf(axis, height_m), [axis, height_m]);
  }
  return [...wanted].map(([key, [axis, height_m]]) => {
    const stream = Float64Array.from(surface.x, (x, i) => {
      const sloping = surface.normalX[i] !== 0;
      return sloping ? streamTransform(axis, { x, depth: height_m - surface.z[i]! }, k) : 0;
    });
    const charge = solve(stream.map((value, i) => -value * surface.normalX[i]!));
    return { key, stream, charge };
  });
}

/** The potentials of the charges at the slopes' points; 0 at the others. */
function potentialsOnSlopes(surface: Outline, fields: readonly CoilField[], k: number) {
  const values = fields.map(() => new Float64Array(surface.x.length));
  const row = layerRow(surface.x.length);
  for (let i = 0; i < surface.x.length; i++) {
    if (surface.normalX[i] === 0) continue;
    fillLayerRow(row, surface, [{ x: surface.x[i]!, z: surface.z[i]! }, k]);
    for (const [f, { charge }] of fields.entries()) values[f]![i] = dot(row.potential, charge);
  }
  return values;
}

interface LevelWork {
  readonly fields: readonly CoilField[];
  readonly both: readonly (readonly number[])[];
  readonly k: number;
}

/**
 * ∫ φ₁ ∂φ₂/∂z dx by depth and pair: within the bank on its level, below from what enters at its
 * base.
 */
function levelProducts(section: BankSection, { fields, both, k }: LevelWork): number[][] {
  const { surface, base, height_m } = section;
  const charges = fields.map(({ charge }) => charge);
  const onBase = lineFields(surface, charges, [base, k]);
  return section.depths_m.map((depth_m, d) => {
    const level = section.levels[d]!;
    if (depth_m < height_m) {
      if (level === null) return both.map(() => 0);
      const on = lineFields(surface, charges, [level, k]);
      return both.map(([a, b]) => product(level.weight, on[a!]!.potential, on[b!]!.rise));
    }
    return belowBase(base, onBase, { both, k, drop_m: depth_m - height_m });
  });
}
