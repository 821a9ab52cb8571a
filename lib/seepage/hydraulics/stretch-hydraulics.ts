import { criticalErosionHead } from "../../earth/backward-erosion.js";
import { type BlanketSection, blanketSeepage } from "../../earth/blanket.js";
import { creepRatio } from "../../earth/creep-ratio.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import { seededRandom } from "../../numerics/random.js";
import { normalPoint } from "../../numerics/statistics/normal.js";
import { quantile } from "../../numerics/statistics/robust.js";
import type { Base, Quantiles, StretchHydraulics } from "./judged-stretch.js";
import type { HydraulicOptions } from "./options.js";
import { inputShares } from "./spread-shares.js";
import { type CommonName, type StretchInputs, sourcesAt } from "./stretch-inputs.js";
import { reliabilities } from "./told-apart.js";

const COMMON: readonly CommonName[] = [
  "blanket conductivity",
  "aquifer conductivity",
  "waterside length",
  "landside length",
  "unit weight",
  "grain size",
];
export const INPUT_NAMES = [
  "blanket thickness",
  "aquifer thickness",
  ...COMMON,
  "landside end",
] as const;
export type InputName = (typeof INPUT_NAMES)[number];

/**
 * Exit gradients and safeties of stretches, by seeded draws of what is not known: the thicknesses of
 * each stretch from what was seen near it, everything else the same all along the bank, so that what
 * stretches have in common does not part them. Null where a stretch has no head or no cross-section.
 */
export function stretchHydraulics(
  inputs: StretchInputs,
  used: HydraulicOptions & { readonly seed: number },
): readonly (StretchHydraulics | null)[] {
  const random = seededRandom(used.seed);
  const chances = Array.from({ length: used.draws }, () =>
    Float64Array.from(INPUT_NAMES, () => random.uniform()),
  );
  const told = reliabilities(inputs);
  return inputs.base.map((base, i) => {
    if (base === null) return null;
    const sections = chances.map((chance) => sectionAt(inputs, { base, i }, chance));
    const results = sections.map(blanketSeepage);
    const gradients = results.map(({ exitGradient }) => exitGradient);
    const blanket_m = quantilesOf(sections.map((one) => one.blanketThickness_m));
    const erosion = sections.map((one, n) => erosionOver(one, grainAt(inputs, itemAt(chances, n))));
    return {
      ...base,
      exitGradient: quantilesOf(gradients),
      safety: quantilesOf(results.map(({ safety }) => safety)),
      erosionSafety: quantilesOf(erosion),
      creep: creepRatio({
        vertical_m: blanket_m.p50,
        horizontal_m: base.baseWidth_m,
        head_m: base.head_m,
      }),
      blanket_m,
      aquifer_m: quantilesOf(sections.map((one) => one.aquiferThickness_m)),
      shares: inputShares(INPUT_NAMES, chances, gradients),
      told: valueAt(told, i),
      sources: sourcesAt(inputs, valueAt(inputs.chainage_m, i)),
    };
  });
}

interface Place {
  readonly base: Base;
  readonly i: number;
}

function sectionAt(
  { blanket, aquifer, common }: StretchInputs,
  { base, i }: Place,
  chance: Float64Array,
): BlanketSection {
  const of = (name: CommonName) => common[name].at(valueAt(chance, INPUT_NAMES.indexOf(name)));
  const thickness = (field: typeof blanket, input: number) =>
    Math.exp(
      valueAt(field.mean, i) - valueAt(field.sd, i) * normalPoint(inside(valueAt(chance, input))),
    );
  return {
    ...base,
    blanketThickness_m: thickness(blanket, 0),
    aquiferThickness_m: thickness(aquifer, 1),
    blanketConductivity_m_per_s: of("blanket conductivity"),
    aquiferConductivity_m_per_s: of("aquifer conductivity"),
    watersideLength_m: of("waterside length"),
    landsideLength_m: of("landside length"),
    landside: valueAt(chance, INPUT_NAMES.indexOf("landside end")) < 0.5 ? "blocked" : "open",
    saturatedUnitWeight_kN_per_m3: of("unit weight"),
  };
}

const inside = (share: number) => Math.min(1 - 1e-9, Math.max(1e-9, share));

function grainAt({ common }: StretchInputs, chance: Float64Array): number {
  return common["grain size"].at(valueAt(chance, INPUT_NAMES.indexOf("grain size")));
}

/** The way of the water under the bank is the width of its base. */
function erosionOver(section: BlanketSection, d70_m: number): number {
  const critical_m = criticalErosionHead({
    length_m: section.baseWidth_m,
    aquiferThickness_m: section.aquiferThickness_m,
    conductivity_m_per_s: section.aquiferConductivity_m_per_s,
    d70_m,
  });
  return critical_m / section.head_m;
}

export function quantilesOf(values: readonly number[]): Quantiles {
  const column = Float64Array.from(values);
  const [p10, p50, p90] = [0.1, 0.5, 0.9].map((p) => quantile(column, p));
  return { p10: p10 ?? Number.NaN, p50: p50 ?? Number.NaN, p90: p90 ?? Number.NaN };
}
