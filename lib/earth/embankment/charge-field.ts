import type { CoilOrientation } from "../coil-quadrature.js";
import type { BankSection } from "./bank-section.js";
import { AXES, type DipoleAxis, streamTransform } from "./coil-dipole.js";
import type { Outline } from "./outline.js";
import { fillLayerRow, layerRow } from "./single-layer.js";
import { chargeSolver } from "./surface-charge.js";

/** A coil pair but for its separation. */
export interface PairAtHeight {
  readonly orientation: CoilOrientation;
  readonly height_m: number;
}

/** What one coil does in a section at one wavenumber. */
interface CoilField {
  readonly key: string;
  /** Of the primary field, at the surface's points. */
  readonly stream: Float64Array;
  readonly charge: Float64Array;
}

/** A field on a line: its potential, and that one's derivative by z. */
interface LineField {
  readonly potential: Float64Array;
  readonly rise: Float64Array;
}

/**
 * What the charges on the slopes add to ∫ E₁·E₂ dV below each depth, at one wavenumber k along the
 * line: a row of depths for each pair.
 *
 * E = A + ∇φ, φ harmonic with ∂φ/∂n = −A·n on the surface, and A without vertical part and without
 * divergence. So ∫ (E₁·E₂ − A₁·A₂) dV below a depth is ∫ φ₂ A₁·n ds over the slopes below it and
 * ∫ φ₁ ∂φ₂/∂z dx over its level. With φ = ik u (k² u for an axis along the line) all is real.
 */
export function chargeShares(
  section: BankSection,
  pairs: readonly PairAtHeight[],
  k: number,
): Float64Array[] {
  const fields = coilFields(section, pairs, k);
  const at = (axis: DipoleAxis, { height_m }: PairAtHeight) =>
    fields.findIndex(({ key }) => key === keyOf(axis, height_m));
  const both = pairs.map((pair) => {
    const [transmitter, receiver] = AXES[pair.orientation];
    return [at(transmitter, pair), at(receiver, pair)] as const;
  });
  const onSurface = potentialsOnSlopes(section.surface, fields, k);
  const levels = levelProducts(section, { fields, both, k });
  return both.map(([a, b], p) => {
    const power = pairs[p]!.orientation === "PRP" ? k ** 3 : k ** 2;
    return Float64Array.from(section.slopesBelow, (below, d) => {
      const { normalX } = section.surface;
      let sum = levels[d]![p]!;
      for (let i = 0; i < below.length; i++) {
        if (below[i] !== 0)
          sum += below[i]! * onSurface[b]![i]! * fields[a]!.stream[i]! * normalX[i]!;
      }
      return power * sum;
    });
  });
}

function keyOf(axis: DipoleAxis, height_m: number): string {
  return `${axis} ${height_m}`;
}

function coilFields(
  { surface }: BankSection,
  pairs: readonly PairAtHeight[],
  k: number,
): CoilField[] {
  const solve = chargeSolver(surface, k);
  const wanted = new Map<string, readonly [DipoleAxis, number]>();
  for (const { orientation, height_m } of pairs) {
    for (const axis of AXES[orientation]) wanted.set(keyOf(axis, height_m), [axis, height_m]);
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
  readonly both: readonly (readonly [number, number])[];
  readonly k: number;
}

/** ∫ φ₁ ∂φ₂/∂z dx by depth and pair: within the bank on its level, below from what enters at its base. */
function levelProducts(section: BankSection, { fields, both, k }: LevelWork): number[][] {
  const { surface, base, height_m } = section;
  const onBase = lineFields(surface, fields, [base, k]);
  return section.depths_m.map((depth_m, d) => {
    const level = section.levels[d]!;
    if (depth_m < height_m) {
      if (level === null) return both.map(() => 0);
      const on = lineFields(surface, fields, [level, k]);
      return both.map(([a, b]) => product(level.weight, on[a]!.potential, on[b]!.rise));
    }
    return belowBase(base, onBase, { both, k, drop_m: depth_m - height_m });
  });
}

/** The fields' potentials and their derivatives by z on a line within the ground. */
function lineFields(
  surface: Outline,
  fields: readonly CoilField[],
  [line, k]: [Outline, number],
): LineField[] {
  const count = line.x.length;
  const values = fields.map(() => ({
    potential: new Float64Array(count),
    rise: new Float64Array(count),
  }));
  const row = layerRow(surface.x.length);
  for (let i = 0; i < count; i++) {
    fillLayerRow(row, surface, [{ x: line.x[i]!, z: line.z[i]! }, k]);
    for (const [f, { charge }] of fields.entries()) {
      values[f]!.potential[i] = dot(row.potential, charge);
      values[f]!.rise[i] = dot(row.rise, charge);
    }
  }
  return values;
}

interface BelowBase {
  readonly both: readonly (readonly [number, number])[];
  readonly k: number;
  /** Of the level below the base, m. */
  readonly drop_m: number;
}

/**
 * ∫ φ₁ ∂φ₂/∂z dx of a level below the base. Below it the field is that of the current q through it
 * alone, so the integral is ∫∫ q₁ q₂ K0(kr)/π dx dx', r to a mirror image twice the drop below.
 */
function belowBase(base: Outline, onBase: readonly LineField[], { both, k, drop_m }: BelowBase) {
  const image = onBase.map(() => new Float64Array(base.x.length));
  const row = layerRow(base.x.length);
  for (let i = 0; i < base.x.length; i++) {
    fillLayerRow(row, base, [{ x: base.x[i]!, z: base.z[i]! - 2 * drop_m }, k]);
    for (const [f, { rise }] of onBase.entries()) image[f]![i] = 2 * dot(row.potential, rise);
  }
  return both.map(([a, b]) => product(base.weight, image[a]!, onBase[b]!.rise));
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

function product(weight: Float64Array, a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += weight[i]! * a[i]! * b[i]!;
  return sum;
}
