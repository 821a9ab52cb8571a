import type { Spread } from "../../earth/spread.js";
import { spreadResponse } from "../../earth/spread-response.js";
import { itemAt, neighbours } from "../../numerics/arrays.js";
import { embankmentFactors } from "../embankment-factor.js";
import { positionsOf, type SectionElectrode, type SectionSpread } from "../section-input.js";
import type { InvertSectionOptions } from "../section-options.js";
import { type CrossSectionEarth, crestResponse } from "./crest-response.js";

type ShapeOptions = Pick<InvertSectionOptions, "shape" | "crossSection" | "correctShape">;

/** What the embankment across the line makes of each reading; 1 where nothing is corrected. */
export function shapeFactors(
  readings: readonly { readonly spread: SectionSpread }[],
  electrodes: readonly SectionElectrode[],
  { shape, crossSection, correctShape }: ShapeOptions,
): Float64Array {
  const spreads = readings.map(({ spread }) => positionsOf(spread, electrodes));
  if (!correctShape || (shape === null && crossSection === null)) {
    return new Float64Array(readings.length).fill(1);
  }
  if (crossSection !== null) return crossSectionFactors(crossSection, spreads);
  return Float64Array.from(shape === null ? [] : embankmentFactors(shape, spreads));
}

/** Response of the cross-section over that of level layers as they lie under the line. */
function crossSectionFactors(across: CrossSectionEarth, spreads: readonly Spread[]): Float64Array {
  const { x_m, depth_m, resistivity_ohm_m } = across.earth;
  const at_m = itemAt(across.surface, across.line).x_m;
  const inner = x_m.slice(1, -1).filter((edge) => edge <= at_m).length;
  const layers = {
    resistivity_ohm_m: resistivity_ohm_m.map((row) => itemAt(row, inner)),
    thickness_m: neighbours(depth_m.slice(0, -1)).map(([top, base]) => base - top),
  };
  const made = crestResponse(across, spreads);
  return Float64Array.from(
    spreads,
    (spread, i) => itemAt(made, i) / spreadResponse(layers, spread),
  );
}
