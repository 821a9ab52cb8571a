import { entryOf, firstOf, lastOf, neighbours } from "../numerics/arrays.js";
import { linearBetween } from "../numerics/functions/linear-between.js";
import type { SectionEarth, SectionElectrode } from "./section-input.js";

/** A grid of lines that hang from the surface: node (column c, row r) is number c × rows + r. */
export interface SectionGrid {
  /** Columns, ascending. */
  readonly x_m: Float64Array;
  /** Rows, from 0 down: depths below the surface. */
  readonly depth_m: Float64Array;
  /** Surface elevation at each column. */
  readonly surface_m: Float64Array;
  /** For each electrode, its column. */
  readonly electrodeColumn: Int32Array;
}

// Over a resistive basement current runs far, and the boundary condition is for even ground: the
// grid goes this many lengths of the line beyond its ends, and down.
const BEYOND_LENGTHS = 100;
const DEPTH_LENGTHS = 50;
/** Growth of cells with distance from the nearest electrode, times `cells`. */
const GROWTH_INSIDE = 1.6;
const GROWTH_OUTSIDE = 3.2;
/** Break points nearer than this share of the local cell are taken as one. */
const SLIVER = 0.02;

export interface GridFineness {
  /** Cells per electrode spacing at the electrodes; they grow away from electrodes. */
  readonly cells: number;
  /** Depth below which rows grow as columns do beyond the line; default: nowhere. */
  readonly coarseBelow_m?: number;
}

/** A grid with a column at every electrode and lines at every cell edge of the earth. */
export function sectionGrid(
  earth: SectionEarth,
  electrodes: readonly SectionElectrode[],
  { cells, coarseBelow_m = Infinity }: GridFineness,
): SectionGrid {
  const sorted = [...electrodes].sort((p, q) => p.x_m - q.x_m);
  const positions = sorted.map((electrode) => electrode.x_m);
  const elevations = sorted.map((electrode) => electrode.elevation_m);
  const [, firstRow = Infinity] = earth.depth_m.slice(0, -1);
  const size = sizeAlongLine(positions, cells, firstRow / 2);
  const [start, end] = [firstOf(positions), lastOf(positions)];
  const length = end - start;
  const beyond = BEYOND_LENGTHS * length;
  const ends = [start - beyond, end + beyond] as const;
  const x = gridLines(breakPoints(ends, positions, earth.x_m.slice(1, -1), size), size);
  const smallest = Math.min(...positions.map(size));
  const depthSize = (depth: number) =>
    smallest + ((depth > coarseBelow_m ? GROWTH_OUTSIDE : GROWTH_INSIDE) / cells) * depth;
  const inner = earth.depth_m.slice(1, -1).filter((depth) => depth > 0);
  const depth = gridLines(
    breakPoints([0, DEPTH_LENGTHS * length], [], inner, depthSize),
    depthSize,
  );
  const columnOf = new Map(Array.from(x, (value, column) => [value, column]));
  return {
    x_m: x,
    depth_m: depth,
    surface_m: x.map((value) => linearBetween(positions, elevations, value)),
    electrodeColumn: Int32Array.from(electrodes, (electrode) => entryOf(columnOf, electrode.x_m)),
  };
}

type CellSize = (position: number) => number;

function sizeAlongLine(positions: readonly number[], cells: number, wanted: number): CellSize {
  const spacing = positions.map((x, i) =>
    Math.min(x - (positions[i - 1] ?? -Infinity), (positions[i + 1] ?? Infinity) - x),
  );
  const nearElectrode = spacing.map((s) => Math.min(s / (2 * cells), Math.max(wanted, s / 50)));
  const [first, last] = [positions[0]!, positions.at(-1)!];
  return (x) => {
    const growth = (x < first || x > last ? GROWTH_OUTSIDE : GROWTH_INSIDE) / cells;
    let size = Infinity;
    for (let i = 0; i < positions.length; i++) {
      size = Math.min(size, nearElectrode[i]! + growth * Math.abs(x - positions[i]!));
    }
    return size;
  };
}

/** All `kept` points, and those of `others` that lie inside the ends and not upon another. */
function breakPoints(
  ends: readonly [number, number],
  kept: readonly number[],
  others: readonly number[],
  size: CellSize,
): number[] {
  const points = [...ends, ...kept];
  for (const other of others) {
    if (!(other > ends[0] && other < ends[1])) continue;
    const gap = SLIVER * size(other);
    if (points.every((point) => Math.abs(point - other) > gap)) points.push(other);
  }
  return points.sort((p, q) => p - q);
}

/** Lines through all break points, with cells of about the wanted size between them. */
function gridLines(points: readonly number[], size: CellSize): Float64Array {
  const cells = neighbours(points).map(([from, to]) => [...between(from, to, size), to]);
  return Float64Array.from([firstOf(points), ...cells.flat()]);
}

/** Inner lines that share ∫ dx/size equally; the integral is taken in a few hundred steps. */
function between(from: number, to: number, size: CellSize): number[] {
  const at = [from];
  const cumulated = [0];
  let [x, total] = [from, 0];
  while (x < to) {
    const step = Math.min(size(x) / 16, to - x);
    const next = step < 1e-12 * (to - from) ? to : x + step;
    total += (next - x) / size((x + next) / 2);
    x = next;
    at.push(x);
    cumulated.push(total);
  }
  const cells = Math.max(1, Math.round(total));
  return Array.from({ length: cells - 1 }, (_, i) =>
    linearBetween(cumulated, at, ((i + 1) / cells) * total),
  );
}
