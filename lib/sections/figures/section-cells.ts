import type { Cell, CellSpot } from "../../figures/strip/strip.js";
import { linearBetween } from "../../numerics/functions/linear-between.js";
import type { Section } from "../section.js";

/** A column of cells under the electrodes. */
export interface DrawnColumn {
  readonly index: number;
  readonly from_m: number;
  readonly to_m: number;
  /** Its middle. */
  readonly at_m: number;
}

type LinePlace = Pick<Section, "runs" | "chainage_m" | "offset_m">;

/** Where x = 0 of a line is drawn: at its chainage where it runs along, at its offset across. */
export function originOf({ runs, chainage_m, offset_m }: LinePlace): number {
  return runs === "along" ? chainage_m : offset_m;
}

/** What the axis along a line is called. */
export function alongLabel({ runs }: Pick<Section, "runs">): string {
  return runs === "along" ? "Chainage (m)" : "Offset (m), waterside to the right";
}

/** Columns under the electrodes, at their chainage (along) or offset (across). */
export function columnsUnder(
  section: LinePlace & {
    readonly cells: Pick<Section["cells"], "x_m">;
    readonly electrodes: readonly { readonly x_m: number }[];
  },
): DrawnColumn[] {
  const { cells, electrodes } = section;
  const ends = electrodes.map(({ x_m }) => x_m);
  const [first, last] = [Math.min(...ends), Math.max(...ends)];
  const origin_m = originOf(section);
  return cells.x_m.slice(1).flatMap((to, index) => {
    const from = cells.x_m[index]!;
    if (to <= first || from >= last) return [];
    const [from_m, to_m] = [origin_m + from, origin_m + to];
    return [{ index, from_m, to_m, at_m: (from_m + to_m) / 2 }];
  });
}

/** Depth down to which a section is drawn: a little below where anything is reliable. */
export function drawnDepth({ cells }: Section): number {
  const { depth_m, reliable } = cells;
  const down = depth_m.length - 1;
  const deepest = reliable.reduce((most, is, c) => (is === 1 ? Math.max(most, c % down) : most), 0);
  return depth_m[Math.min(down - 1, deepest + 3)]!;
}

/** Full colour where nothing of the reference shows through, none at twice the limit. */
export function confidenceOf(
  { log10Sd, reference }: Section["cells"],
  cell: number,
  { cellSd, reach }: { readonly cellSd: number; readonly reach: number },
): number {
  const bySpread = 1.5 - (0.75 * (log10Sd[cell] ?? Infinity)) / cellSd;
  const byReach = 1.5 - (0.75 * (reference[cell] ?? Infinity)) / reach;
  return Math.min(1, Math.max(0, Math.min(bySpread, byReach)));
}

/** Limits at which the figures fade; those of the defaults. */
const FADING = { cellSd: 0.15, reach: 0.3 };

/** The section's cells, faded by their reliability. */
export function drawnCellsOf(section: Section): Cell[] {
  const { cells, surface_m } = section;
  const down = cells.depth_m.length - 1;
  const bottom = drawnDepth(section);
  return columnsUnder(section).flatMap(({ index, from_m, to_m }) =>
    cells.depth_m.slice(0, -1).flatMap((top_m, row) => {
      if (top_m >= bottom) return [];
      const cell = index * down + row;
      return [
        {
          ...{ from_m, to_m, top_m },
          base_m: Math.min(bottom, cells.depth_m[row + 1]!),
          value: 10 ** (cells.log10Resistivity[cell] ?? Number.NaN),
          confidence: confidenceOf(cells, cell, FADING),
          surface_m: surface_m[index]!,
        },
      ];
    }),
  );
}

/** A residual beyond so many standard deviations is marked. */
const MARKED = 2.5;

/** A dot where each reading looks; a triangle where it does not fit, up where it is higher. */
export function readingSpots(section: Section): CellSpot[] {
  const origin_m = originOf(section);
  const x = section.electrodes.map(({ x_m }) => x_m);
  const z = section.electrodes.map(({ elevation_m }) => elevation_m);
  const order = x.map((_, i) => i).sort((p, q) => x[p]! - x[q]!);
  const [sortedX, sortedZ] = [order.map((i) => x[i]!), order.map((i) => z[i]!)];
  const bottom = drawnDepth(section);
  return section.readings
    .filter(({ cause, medianDepth_m }) => cause === "" && medianDepth_m < bottom)
    .map(({ reading: { a, b, m, n }, x_m, medianDepth_m, residual, array }) => ({
      x_m: origin_m + x_m,
      depth_m: medianDepth_m,
      surface_m: linearBetween(sortedX, sortedZ, x_m),
      shape: Math.abs(residual) < MARKED ? "dot" : residual > 0 ? "up" : "down",
      text: `${array} ${a} ${b} ${m} ${n}: ${residual.toFixed(1)} sd`,
    }));
}
