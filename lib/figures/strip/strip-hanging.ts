import { extent, rounded } from "../numbers.js";
import type { Cell, CellsPanel } from "./strip-types.js";

type Json = Readonly<Record<string, unknown>>;

/** How depths become places on the vertical axis: depth itself, or elevation below a surface. */
export interface Hanging {
  readonly axis: Json;
  /** Elevations are drawn to a multiple of this, m: half a pixel; 0 where depth is drawn. */
  readonly surfaceStep_m: number;
  /** Metres per px, the sign that of growing depth. */
  readonly downPer_px: number;
  /** Place of a depth below a surface. */
  readonly place: (depth_m: number, surface_m: number) => number;
}

export function hangingOf(panel: CellsPanel, height_px: number): Hanging {
  return hasElevations(panel.cells)
    ? belowSurface(panel, height_px)
    : belowNothing(panel, height_px);
}

function hasElevations(cells: readonly Cell[]): boolean {
  return cells.length > 0 && cells.every(({ surface_m }) => Number.isFinite(surface_m));
}

function belowNothing({ cells }: CellsPanel, height_px: number): Hanging {
  const deepest = cells.reduce((most, { base_m }) => Math.max(most, base_m), 0);
  const domain = [0, deepest > 0 ? deepest : 1];
  return {
    axis: {
      type: "quantitative",
      scale: { domain, reverse: true, nice: false },
      axis: { title: "Depth (m)", grid: false, tickCount: 5 },
    },
    surfaceStep_m: 0,
    downPer_px: domain[1]! / height_px,
    place: (depth_m) => depth_m,
  };
}

function belowSurface({ cells, elevationLabel }: CellsPanel, height_px: number): Hanging {
  const tops = cells.map(({ surface_m, top_m }) => surface_m! - top_m);
  const bases = cells.map(({ surface_m, base_m }) => surface_m! - base_m);
  const domain = extent([tops, bases])!;
  const perPx = (domain[1] - domain[0]) / height_px;
  return {
    axis: {
      type: "quantitative",
      scale: { domain: [...domain], nice: false, zero: false },
      axis: { title: elevationLabel ?? "Elevation (m)", grid: false, tickCount: 6 },
    },
    surfaceStep_m: perPx / 2,
    downPer_px: -perPx,
    place: (depth_m, surface_m) => surface_m - depth_m,
  };
}

/** Stretches of one surface, as the cells are drawn: runs that cross gaps, from end to end. */
export function surfaceRuns(
  cells: readonly { readonly from_m: number; readonly to_m: number; readonly surface_m: number }[],
): readonly { readonly from_m: number; readonly to_m: number; readonly surface_m: number }[] {
  const runs: { from_m: number; to_m: number; surface_m: number }[] = [];
  for (const { from_m, to_m, surface_m } of cells.toSorted((a, b) => a.from_m - b.from_m)) {
    const last = runs.at(-1);
    if (last === undefined || !Object.is(last.surface_m, surface_m)) {
      runs.push({ from_m, to_m, surface_m });
    } else last.to_m = Math.max(last.to_m, to_m);
  }
  return runs;
}

/** A line along the runs at a depth below them. */
export function hungLine(
  runs: ReturnType<typeof surfaceRuns>,
  depth_m: number,
  place: Hanging["place"],
): readonly Json[] {
  return runs.flatMap(({ from_m, to_m, surface_m }) => {
    const d = rounded(place(depth_m, surface_m), 3);
    return [
      { a: rounded(from_m), d },
      { a: rounded(to_m), d },
    ];
  });
}
