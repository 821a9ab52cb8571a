import { type Fault, quoted, StepError } from "../../numerics/step-error.js";
import { checkList, NOT_NEGATIVE } from "../check.js";
import type { CoilGeometry } from "../coil-quadrature.js";
import { coilGeometryFaults } from "../coil-response.js";
import { embankmentCoilSensitivities } from "./embankment-coil-sensitivity.js";
import { type EmbankmentShape, shapeFaults } from "./shape.js";

/** Response on a homogeneous embankment over that on level ground. */
export interface EmbankmentCoilFactor {
  /** From all the ground. */
  readonly total: number;
  /** From the ground between a depth and the next, the last one going on for ever. */
  readonly layers: readonly number[];
}

/**
 * Low-induction response of a coil pair along the crest of a homogeneous embankment over that on
 * level ground at the crest's height, in all and by layers of depth.
 *
 * The response of a layer is its conductivity's derivative, ∫ E₁·E₂ dV over the layer, E the
 * electric field in the ground of a current in either coil: E = A + ∇φ, ∇·E = 0, E·n = 0 on every
 * surface, so that charges on the slopes are counted. The layers' responses sum to that of the
 * whole. φ is found in the cross-section for each wavenumber along the line from its charges on the
 * ground surface.
 *
 * `shape`: the cross-section, m, the same all along, on level ground that goes on for ever.
 * `coils`: orientation, separation and height above the crest, m; both coils above the line, which
 * runs along the crest. `layerTops_m`: depths below the crest's level, m, 0 or more, rising; a
 * layer is what lies between two depths wherever there is ground, beside the bank too. Nothing may
 * be missing: NaN is a fault. Returns ratios without unit, one a layer; 1 for `height_m` 0. Level
 * ground has no negative part, so that a layer's ratio is NaN only where that part is too small for
 * a number. The ratio may be negative (HCP and PRP of a long separation in the uppermost ground of
 * a narrow crest) and of little weight at the same time: combine layers by their parts, Σ σ_j
 * part_j, never by averaging ratios.
 *
 * Limits: low induction numbers; one conductivity throughout (for layers, Σ σ_j part_j on the
 * embankment over the same on level ground is exact to first order in contrast; where layers differ
 * by factors of 3 to 6, it is 0.6–2 % high for HCP and PRP, 1.5–5 % for VCP, by finite elements);
 * no water beside the bank, a straight line. Accurate to about 1e-4 of the whole response, with
 * walls for slopes 3e-4; the ratio of a layer that has little part in it, to less. Coils nearer to
 * the crest's edge than a hundredth of their separation are taken to be at that distance. Throws
 * StepError with every fault.
 *
 * Source: McNeill 1980, Technical Note 6 (level ground); reciprocity: Ward & Hohmann 1988 (from
 * memory). Held against finite elements in three dimensions.
 *
 * @example
 * embankmentCoilFactor(
 *   { crestWidth_m: 3, height_m: 3, watersideSlope: 2.5, landsideSlope: 2.5, offset_m: 0 },
 *   { orientation: "HCP", separation_m: 2, height_m: 0.9 },
 *   [0, 1, 3],
 * ); // { total: 0.780, layers: [0.570, 0.782, 1.014] }
 */
export function embankmentCoilFactor(
  shape: EmbankmentShape,
  coils: CoilGeometry,
  layerTops_m: ArrayLike<number>,
): EmbankmentCoilFactor {
  const faults = [...shapeFaults(shape), ...coilGeometryFaults(coils), ...topFaults(layerTops_m)];
  if (faults.length > 0) throw new StepError("embankmentCoilFactor", faults);
  const tops = Array.from(layerTops_m);
  const { bank, flat, bankTotal, flatTotal } = embankmentCoilSensitivities(
    shape,
    [coils],
    tops,
  )[0]!;
  return {
    total: bankTotal / flatTotal,
    layers: Array.from(bank, (part, j) => ratio(part, flat[j]!)),
  };
}

function ratio(part: number, flat: number): number {
  return flat > 0 ? part / flat : Number.NaN;
}

function topFaults(tops: ArrayLike<number>): Fault[] {
  const faults: Fault[] = [];
  checkList(faults, "layerTops_m", [tops, NOT_NEGATIVE]);
  if (faults.length > 0) return faults;
  for (let j = 1; j < tops.length; j++) {
    if (tops[j]! > tops[j - 1]!) continue;
    const path = `layerTops_m[${j}]`;
    const expected = `above the one before, ${quoted(tops[j - 1])}`;
    return [{ code: "not-rising", path, expected, received: quoted(tops[j]) }];
  }
  return faults;
}
