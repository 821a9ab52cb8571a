import { geometricFactor } from "../earth/spread.js";
import { firstOf, itemAt, lastOf, neighbours } from "../numerics/arrays.js";
import { checkedOptions } from "../step/define-step.js";
import { type SectionResponseOptions, sectionResponseOptions } from "./options.js";
import { sectionFaults } from "./section-check.js";
import { sectionGrid } from "./section-grid.js";
import {
  positionsOf,
  type SectionEarth,
  type SectionElectrode,
  type SectionSpread,
} from "./section-input.js";
import { electrodePotentials } from "./section-potentials.js";
import { wavenumbers } from "./wavenumbers.js";

const definition = {
  name: "sectionResponse",
  options: sectionResponseOptions,
  faults: sectionFaults,
};

/**
 * Apparent resistivities, ohm-m, of spreads on an earth that varies along the line and with
 * depth and not across the line, with topography: a 2.5-D direct-current forward model.
 *
 * ∇·σ∇φ − k²σφ = −I δ/2 for each of a set of wavenumbers k across the line, by biquadratic finite
 * elements on a grid that hangs from the surface, and V = (2/π) ∫ φ dk. ρ_a = K V/I with the
 * flat-ground factor K = 2π/(1/AM − 1/BM − 1/AN + 1/BN) of straight distances along x, so that
 * topography shows in ρ_a.
 *
 * `earth`: cell edges `x_m` (m + 1) and `depth_m` below the surface (n + 1), and
 * `resistivity_ohm_m` (n rows by depth of m). `electrodes`: positions along the line and
 * elevations, m, in any order; the surface is straight between electrodes and level beyond.
 * `earth.water`, where there is any, lies on ground that is lower than its level, also over
 * electrodes, in cells of its own; depths go on counting from the ground.
 * `spreads`: electrode numbers from 1, 0 for a remote electrode. Returns one value a spread, in the
 * order of `spreads`. Nothing may be missing: NaN is a fault. `options` as in
 * `SectionResponseOptions`.
 *
 * Limits: point electrodes; structures endless across the line; the ground ends 100 lengths of the
 * line beyond it and 50 below it, with a boundary condition for even ground. Resistivities that
 * jump a hundredfold within half an electrode spacing of the surface ask for `cellsPerSpacing` 4 or
 * more. Exchanging the current for the potential electrodes changes nothing (reciprocity). Throws
 * StepError with every fault.
 *
 * Source: Dey & Morrison 1979 (wavenumber domain, mixed boundary); Zienkiewicz & Taylor 2000
 * (biquadratic elements).
 *
 * @example
 * const electrodes = [0, 5, 10, 15].map((x_m) => ({ x_m, elevation_m: 3 }));
 * const earth =
 *   { x_m: [0, 15], depth_m: [0, 2, 7, 9], resistivity_ohm_m: [[100], [10], [100]] };
 * sectionResponse(earth, electrodes, [{ a: 1, m: 2, n: 3, b: 4 }]); // [26.91] (26.78 exactly)
 */
export function sectionResponse(
  earth: SectionEarth,
  electrodes: readonly SectionElectrode[],
  spreads: readonly SectionSpread[],
  options: Partial<SectionResponseOptions> = {},
): number[] {
  const used = checkedOptions(definition, { earth, electrodes, spreads }, options);
  const potentials = electrodePotentials(
    sectionGrid(earth, electrodes, { cells: used.cellsPerSpacing }),
    earth,
    wavenumbers({ ...distanceRange(electrodes), step: used.wavenumberStep }),
  );
  return spreads.map((spread) => {
    const resistance = transferResistance(spread, potentials, electrodes.length);
    return geometricFactor(positionsOf(spread, electrodes)) * resistance;
  });
}

/** The transform also serves images at three lengths of the line. */
function distanceRange(electrodes: readonly SectionElectrode[]) {
  const x = electrodes.map((electrode) => electrode.x_m).sort((p, q) => p - q);
  const nearest_m = Math.min(...neighbours(x).map(([one, next]) => next - one));
  return { nearest_m, farthest_m: 3 * (lastOf(x) - firstOf(x)) };
}

/** V/I, ohm, from the potentials of 1 A at every electrode. */
function transferResistance(
  { a, b, m, n }: SectionSpread,
  potentials: Float64Array,
  count: number,
): number {
  const potential = (source: number, at: number) =>
    source === 0 || at === 0 ? 0 : itemAt(potentials, (source - 1) * count + at - 1);
  return potential(a, m) - potential(b, m) - (potential(a, n) - potential(b, n));
}
