import { itemAt } from "../../numerics/arrays.js";
import { extent, rounded } from "../numbers.js";
import type { Position, Row } from "../spec.js";
import type { CellsPanel } from "./types.js";

/** How depths become places on the vertical axis: depth itself, or elevation below a surface. */
export interface DepthAxis {
  readonly axis: Position;
  /** Elevations are drawn to a multiple of this, m: half a pixel; 0 where depth is drawn. */
  readonly surfaceStep_m: number;
  /** Metres per px, the sign that of growing depth. */
  readonly downPer_px: number;
  /** Place of a depth below a surface. */
  readonly place: (depth_m: number, surface_m: number) => number;
}

/** Elevation where every cell has the elevation of its surface, else depth. */
export function depthAxis({ cells, elevationLabel }: CellsPanel, height_px: number): DepthAxis {
  const surfaces = cells.map(({ surface_m }) => surface_m ?? Number.NaN);
  const tops = cells.map(({ top_m }, i) => itemAt(surfaces, i) - top_m);
  const bases = cells.map(({ base_m }, i) => itemAt(surfaces, i) - base_m);
  const range = surfaces.every(Number.isFinite) ? extent([tops, bases]) : null;
  if (range !== null) return elevationAxis(range, elevationLabel, height_px);
  const deepest = cells.reduce((most, { base_m }) => Math.max(most, base_m), 0);
  const lowest = deepest > 0 ? deepest : 1;
  return {
    axis: {
      type: "quantitative",
      scale: { domain: [0, lowest], reverse: true, nice: false },
      axis: { title: "Depth (m)", grid: false, tickCount: 5 },
    },
    surfaceStep_m: 0,
    downPer_px: lowest / height_px,
    place: (depth_m) => depth_m,
  };
}

function elevationAxis(
  range: readonly [number, number],
  title = "Elevation (m)",
  height_px: number,
): DepthAxis {
  const perPx = (range[1] - range[0]) / height_px;
  return {
    axis: {
      type: "quantitative",
      scale: { domain: [...range], nice: false, zero: false },
      axis: { title, grid: false, tickCount: 6 },
    },
    surfaceStep_m: perPx / 2,
    downPer_px: -perPx,
    place: (depth_m, surface_m) => surface_m - depth_m,
  };
}

/** A stretch of the surface at one elevation, as the cells are drawn. */
export interface SurfaceRun {
  readonly from_m: number;
  readonly to_m: number;
  readonly surface_m: number;
}

/** Stretches of one surface: runs that cross gaps, from end to end. */
export function surfaceRuns(cells: readonly SurfaceRun[]): readonly SurfaceRun[] {
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
export function lineAtDepth(
  runs: readonly SurfaceRun[],
  depth_m: number,
  place: DepthAxis["place"],
): readonly Row[] {
  return runs.flatMap(({ from_m, to_m, surface_m }) => {
    const d = rounded(place(depth_m, surface_m), 3);
    return [
      { a: rounded(from_m), d },
      { a: rounded(to_m), d },
    ];
  });
}
