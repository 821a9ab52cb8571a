import type { DepthTie } from "../../depth/options.js";
import { type Given, resultValue } from "../../step/step-result.js";
import type { Section } from "../section.js";
import { columnAt, sliceOfSection } from "./slice-of-section.js";

/** Where and between which depths a section is handed over. */
export interface TiePlaces {
  /** Distance of ties along the line, m: errors of neighbours are one error. Default 10. */
  readonly every_m?: number;
  /** Depths, as the walk's slices have them. */
  readonly slices: readonly { readonly top_m: number; readonly base_m: number }[];
}

/**
 * A section along the walked line as ties for `estimateDepthSlices`, to be used by decision: each a
 * slice's mean with its spread over the posterior draws, every few metres, where all cells of the
 * slice are reliable.
 *
 * @param section - a section along the walked line, or the result of `invertSection`.
 * @param places - see `TiePlaces`.
 * @returns ties at field temperature; none for a line across.
 * Limits: ties are taken as independent of each other, which a section's neighbours are not: keep
 * them some metres apart.
 * @example tiesFromSection(section, { slices: [] }); // []
 */
export function tiesFromSection(section: Given<Section>, places: TiePlaces): readonly DepthTie[] {
  const value = resultValue(section);
  if (value.runs !== "along") return [];
  const { every_m = 10, slices } = places;
  const x = value.electrodes.map(({ x_m }) => x_m);
  const [first, last] = [Math.min(...x), Math.max(...x)];
  const count = Math.max(0, Math.floor((last - first) / every_m));
  return Array.from({ length: count }, (_, i) => first + (i + 0.5) * every_m).flatMap((x_m) =>
    slices
      .filter((slice) => isReliable(value, columnAt(value, x_m), slice))
      .map(({ top_m, base_m }) => {
        const { mean, sd } = sliceOfSection(value, columnAt(value, x_m), { top_m, base_m });
        const chainage_m = value.chainage_m + x_m;
        return { chainage_m, top_m, base_m, resistivity_ohm_m: 10 ** mean, log10Sd: sd };
      }),
  );
}

function isReliable(
  { cells: { depth_m, reliable } }: Section,
  column: number,
  { top_m, base_m }: { readonly top_m: number; readonly base_m: number },
): boolean {
  const down = depth_m.length - 1;
  return Array.from({ length: down }, (_, row) => row)
    .filter((row) => depth_m[row]! < base_m && (row === down - 1 || depth_m[row + 1]! > top_m))
    .every((row) => reliable[column * down + row] === 1);
}
