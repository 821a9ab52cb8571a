import { entryOf, firstOf, lastOf } from "../numerics/arrays.js";
import { linearBetween } from "../numerics/functions/linear-between.js";
import { breakPoints, type CellSize, gridLines } from "./grid-lines.js";
import type { SectionEarth, SectionElectrode } from "./section-input.js";
import { type GridWater, gridWater, waterEdges } from "./water/grid-water.js";

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
  /** Over the surface; null where there is none. */
  readonly water: GridWater | null;
}

// Over a resistive basement current runs far, and the boundary condition is for even ground: the
// grid goes this many lengths of the line beyond its ends, and down.
const BEYOND_LENGTHS = 100;
const DEPTH_LENGTHS = 50;
/** Growth of cells with distance from the nearest electrode, times `cells`. */
const GROWTH_INSIDE = 1.6;
const GROWTH_OUTSIDE = 3.2;

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
  const positions = electrodes.map((electrode) => electrode.x_m).sort((p, q) => p - q);
  const ground = [...electrodes, ...(earth.water?.bed ?? [])].sort((p, q) => p.x_m - q.x_m);
  const [, firstRow = Infinity] = earth.depth_m.slice(0, -1);
  const size = sizeAlongLine(positions, cells, firstRow / 2);
  const [start, end] = [firstOf(positions), lastOf(positions)];
  const length = end - start;
  const beyond = BEYOND_LENGTHS * length;
  const ends = [start - beyond, end + beyond] as const;
  const bends = earth.water ? waterEdges(ground, earth.water, size) : [];
  const x = gridLines(
    breakPoints(ends, positions, [...bends, ...earth.x_m.slice(1, -1)], size),
    size,
  );
  const smallest = Math.min(...positions.map(size));
  const depthSize = (depth: number) =>
    smallest + ((depth > coarseBelow_m ? GROWTH_OUTSIDE : GROWTH_INSIDE) / cells) * depth;
  const inner = earth.depth_m.slice(1, -1).filter((depth) => depth > 0);
  const depth = gridLines(
    breakPoints([0, DEPTH_LENGTHS * length], [], inner, depthSize),
    depthSize,
  );
  const columnOf = new Map(Array.from(x, (value, column) => [value, column]));
  const electrodeColumn = Int32Array.from(electrodes, ({ x_m }) => entryOf(columnOf, x_m));
  const [along, elevation] = [ground.map(({ x_m }) => x_m), ground.map((p) => p.elevation_m)];
  const surface_m = x.map((value) => linearBetween(along, elevation, value));
  const dry = { x_m: x, depth_m: depth, surface_m, electrodeColumn, water: null };
  return earth.water ? { ...dry, water: gridWater(dry, earth.water, depthSize) } : dry;
}

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
