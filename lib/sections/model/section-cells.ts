import { firstOf, lastOf, neighbours } from "../../numerics/arrays.js";
import { median } from "../../numerics/statistics/robust.js";

/** The cells of a section: columns along the line, rows that hang from the surface. */
export interface SectionCells {
  /** Edges of columns; the first and the last column go on for ever. */
  readonly x_m: readonly number[];
  /** Edges of rows from 0 down; the last row is endless. */
  readonly depth_m: readonly number[];
}

export interface CellSizes {
  /** Columns between two electrodes of the usual spacing. */
  readonly columnsPerSpacing: number;
  /** Depth of the last edge but one, m. */
  readonly depth_m: number;
  /** Depths to which the nearest edge is moved, such as a known interface's. */
  readonly snap_m?: readonly number[];
}

/** Height of the first row and growth of rows with depth, shares of the electrode spacing. */
const FIRST_ROW = 0.5;
const ROW_GROWTH = 0.12;
/** Widths of the columns beyond either end, in spacings. */
const BEYOND = [1, 2, 4];

/**
 * Columns with edges at the electrodes, split where electrodes lie apart and joined where they
 * crowd, and rows that grow with depth as resolution is lost.
 */
export function sectionCells(
  electrodeX_m: readonly number[],
  { columnsPerSpacing, depth_m, snap_m = [] }: CellSizes,
): SectionCells {
  const x = [...electrodeX_m].sort((p, q) => p - q);
  const spacing = usualSpacing(x);
  const inner = columnEdges(x, spacing / columnsPerSpacing);
  const [left, right] = [[firstOf(inner)], [lastOf(inner)]];
  for (const width of BEYOND) {
    left.unshift(firstOf(left) - width * spacing);
    right.push(lastOf(right) + width * spacing);
  }
  return {
    x_m: [...left, ...inner.slice(1, -1), ...right],
    depth_m: snapped(rowEdges(spacing / Math.min(columnsPerSpacing, 1.5), depth_m), snap_m),
  };
}

/** The median distance of neighbouring electrodes. */
export function usualSpacing(sorted_m: readonly number[]): number {
  return median(neighbours(sorted_m).map(([one, next]) => next - one));
}

function columnEdges(x: readonly number[], width: number): number[] {
  const edges = [firstOf(x)];
  for (const at of x.slice(1)) {
    const from = lastOf(edges);
    const columns = Math.round((at - from) / width);
    if (columns === 0 && at !== lastOf(x)) continue;
    const count = Math.max(1, columns);
    for (let i = 1; i <= count; i++) edges.push(from + ((at - from) * i) / count);
  }
  return edges;
}

function rowEdges(spacing: number, depth_m: number): number[] {
  const edges = [0];
  while (lastOf(edges) < depth_m) {
    edges.push(lastOf(edges) + FIRST_ROW * spacing + ROW_GROWTH * lastOf(edges));
  }
  return [...edges, 1.5 * lastOf(edges)];
}

/** Edges with the nearest inner one moved to each of the depths that lie among them. */
function snapped(edges: readonly number[], depths: readonly number[]): number[] {
  const out = [...edges];
  for (const depth of depths) {
    if (!(depth > 0 && depth < lastOf(edges))) continue;
    const distance = (at: number) => Math.abs(out[at]! - depth);
    let nearest = 1;
    for (let at = 2; at < out.length - 1; at++) if (distance(at) < distance(nearest)) nearest = at;
    out[nearest] = depth;
  }
  return out.sort((p, q) => p - q);
}
