import type { SectionWater } from "../section-input.js";
import type { InvertSectionOptions } from "../section-options.js";

/** The water that an inversion's forward model holds; null for none. */
export function waterOf({
  water,
  includeWater,
  waterResistivity_ohm_m: resistivity_ohm_m,
}: Pick<
  InvertSectionOptions,
  "water" | "includeWater" | "waterResistivity_ohm_m"
>): SectionWater | null {
  return water !== null && includeWater ? { ...water, resistivity_ohm_m } : null;
}
