import type { Section, SectionValues } from "../section.js";

/** Mean and standard deviation of a slice's mean log10 resistivity over a section's draws. */
export interface SliceMoments {
  readonly mean: number;
  readonly sd: number;
}

/** Of a column of the section, between two depths; NaN where the column is outside. */
export function sliceOfSection(
  { cells }: Pick<Section, "cells">,
  column: number,
  { top_m, base_m }: { readonly top_m: number; readonly base_m: number },
): SliceMoments {
  const shares = rowShares(cells, top_m, base_m);
  const down = shares.length;
  const values = cells.draws.map((draw) =>
    shares.reduce((sum, share, row) => sum + share * draw[column * down + row]!, 0),
  );
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const square = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return { mean, sd: Math.sqrt(square / (values.length - 1)) };
}

/** Share of each row between two depths; the last row has no base. */
function rowShares({ depth_m }: Pick<SectionValues, "depth_m">, top_m: number, base_m: number) {
  const down = depth_m.length - 1;
  return Array.from({ length: down }, (_, row) => {
    const base = row === down - 1 ? Infinity : depth_m[row + 1]!;
    return Math.max(0, Math.min(base, base_m) - Math.max(depth_m[row]!, top_m)) / (base_m - top_m);
  });
}

/** The column under a place of the line; −1 beyond the electrodes. */
export function columnAt({ cells, electrodes }: Section, x_m: number): number {
  const ends = electrodes.map((electrode) => electrode.x_m);
  if (!(x_m >= Math.min(...ends) && x_m <= Math.max(...ends))) return -1;
  return cells.x_m.findLastIndex((edge) => edge <= x_m);
}
