import { blanketSeepage } from "../earth/blanket.js";
import { seededRandom } from "../numerics/random.js";
import { quantile } from "../numerics/statistics/robust.js";
import { customOption, groupOption } from "../step/options/kinds.js";
import { numberOption } from "../step/options/number.js";
import type { CrossSection } from "../survey/survey.js";

/** Lower and upper limit of what is not known at the toe. */
export type Range = readonly [number, number];

const range = (low: number, high: number, words: { unit: string; meaning: string }) =>
  customOption<Range>({
    default: Object.freeze([low, high] as const),
    rule: `two numbers, 0 < low ≤ high, ${words.unit}`,
    holds: (value) => Array.isArray(value) && value[0] > 0 && value[1] >= value[0],
    ...words,
  });

/** Declared ranges for blanket theory; drawn evenly on a log scale between their limits. */
export const blanketRanges = groupOption(
  {
    blanketThickness_m: range(0.8, 2.5, {
      unit: "m",
      meaning: "Thickness of the less pervious top stratum at the landside toe.",
    }),
    aquiferThickness_m: range(3, 12, {
      unit: "m",
      meaning: "Thickness of the pervious stratum under it.",
    }),
    blanketConductivity_m_per_s: range(1e-7, 5e-6, {
      unit: "m/s",
      meaning: "Hydraulic conductivity of the top stratum.",
    }),
    aquiferConductivity_m_per_s: range(5e-5, 1e-3, {
      unit: "m/s",
      meaning: "Hydraulic conductivity of the pervious stratum.",
    }),
    riverside_m: range(10, 100, {
      unit: "m",
      meaning: "Blanket between the waterside toe and the river's open bed.",
    }),
    landside_m: range(50, 300, {
      unit: "m",
      meaning: "Blanket landward of the toe until it is cut or ends open.",
    }),
    draws: numberOption({ default: 2000, from: 100, whole: true, meaning: "Draws." }),
  },
  { meaning: "Ranges for the exit gradient, drawn evenly on a log scale within their limits." },
);

/** The ranges, resolved. */
export type BlanketRanges = typeof blanketRanges.default;

export interface GradientQuantiles {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

/** Weight of saturated ground, above water's; the gradient does not depend on it. */
const SATURATED_KN_PER_M3 = 18.5;

/**
 * The landward exit gradient at design water level: quantiles over seeded draws from the ranges,
 * with the landside blanket blocked or open at its end, half and half. Null where the water level
 * or the cross-section is not known or there is no head.
 * Source: USACE EM 1110-2-1913, Appendix B (blanket theory).
 */
export function exitGradientOf(
  section: CrossSection,
  designWaterLevel_m: number | null,
  ranges: BlanketRanges & { readonly seed: number },
): GradientQuantiles | null {
  const base = baseOf(section, designWaterLevel_m);
  if (base === null) return null;
  const random = seededRandom(ranges.seed);
  const draw = ([low, high]: Range) => low * (high / low) ** random.uniform();
  const gradients = Float64Array.from(
    { length: ranges.draws },
    () =>
      blanketSeepage({
        ...base,
        blanketThickness_m: draw(ranges.blanketThickness_m),
        aquiferThickness_m: draw(ranges.aquiferThickness_m),
        blanketConductivity_m_per_s: draw(ranges.blanketConductivity_m_per_s),
        aquiferConductivity_m_per_s: draw(ranges.aquiferConductivity_m_per_s),
        watersideLength_m: draw(ranges.riverside_m),
        landsideLength_m: draw(ranges.landside_m),
        landside: random.uniform() < 0.5 ? "blocked" : "open",
        saturatedUnitWeight_kN_per_m3: SATURATED_KN_PER_M3,
      }).exitGradient,
  );
  const [p10, p50, p90] = [0.1, 0.5, 0.9].map((p) => quantile(gradients, p));
  return { p10: p10!, p50: p50!, p90: p90! };
}

/** Head at design level over the ground at the toe, and the width of the bank's base. */
function baseOf(
  section: CrossSection,
  designWaterLevel_m: number | null,
): { readonly head_m: number; readonly baseWidth_m: number } | null {
  const { crestWidth_m, crestElevation_m, foundationElevation_m } = section;
  const { watersideSlope, landsideSlope } = section;
  if (crestWidth_m === null || crestElevation_m === null || foundationElevation_m === null) {
    return null;
  }
  if (watersideSlope === null || landsideSlope === null || designWaterLevel_m === null) return null;
  const head_m = designWaterLevel_m - foundationElevation_m;
  const height_m = crestElevation_m - foundationElevation_m;
  if (!(head_m > 0) || !(height_m > 0)) return null;
  return { head_m, baseWidth_m: crestWidth_m + height_m * (watersideSlope + landsideSlope) };
}
