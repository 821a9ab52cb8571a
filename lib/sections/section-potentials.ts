import { type BandMatrix, solveBandSystem } from "../numerics/algebra/banded.js";
import { itemAt } from "../numerics/arrays.js";
import {
  cornerNode,
  type SectionElements,
  sectionElements,
  systemFor,
} from "./section-elements.js";
import type { SectionGrid } from "./section-grid.js";
import type { SectionEarth } from "./section-input.js";
import type { Wavenumbers } from "./wavenumbers.js";

/**
 * Potential (V) at each electrode for 1 A into each other electrode, as a symmetric E × E matrix;
 * the diagonal, infinite for a point electrode, is NaN.
 *
 * Every pair is divided by what the same grid, flattened and of 1 ohm-m throughout, makes of the
 * exact 1/(2πr): the grid's own error near the source is the same in both and drops out.
 */
export function electrodePotentials(
  grid: SectionGrid,
  earth: SectionEarth,
  transform: Wavenumbers,
): Float64Array {
  const flat = flattened(grid);
  const even = new Float64Array((grid.x_m.length - 1) * (grid.depth_m.length - 1)).fill(1);
  const potentials = solveAll(
    grid,
    sectionElements(grid, cellConductivity(grid, earth)),
    transform,
  );
  const reference = solveAll(flat, sectionElements(flat, even), transform);
  return calibrated(potentials, reference, grid);
}

/** The same columns and rows under a level surface, without water. */
export function flattened(grid: SectionGrid): SectionGrid {
  return { ...grid, surface_m: new Float64Array(grid.x_m.length), water: null };
}

function calibrated(
  potentials: Float64Array,
  reference: Float64Array,
  { x_m, electrodeColumn }: SectionGrid,
): Float64Array {
  const count = electrodeColumn.length;
  return potentials.map((value, at) => {
    const i = Math.floor(at / count);
    const j = at % count;
    const other = j * count + i;
    const distance = Math.abs(x_m[electrodeColumn[i]!]! - x_m[electrodeColumn[j]!]!);
    const exact = 1 / (2 * Math.PI * distance);
    const ratio = (value + potentials[other]!) / (reference[at]! + reference[other]!);
    return i === j ? NaN : exact * ratio;
  });
}

/** Conductivity of each cell of the grid, taken at its middle; column by column. */
function cellConductivity(grid: SectionGrid, earth: SectionEarth): Float64Array {
  const values = earth.resistivity_ohm_m.flat();
  return Float64Array.from(cellsUnder(grid, earth), (cell) => 1 / itemAt(values, cell));
}

/** For each cell of the grid, column by column, the earth's cell (row by row) at its middle. */
export function cellsUnder(
  grid: SectionGrid,
  earth: Pick<SectionEarth, "x_m" | "depth_m">,
): Int32Array {
  const rows = grid.depth_m.length - 1;
  const across = earth.x_m.length - 1;
  const out = new Int32Array((grid.x_m.length - 1) * rows);
  for (let c = 0; c + 1 < grid.x_m.length; c++) {
    const i = intervalOf(earth.x_m, (grid.x_m[c]! + grid.x_m[c + 1]!) / 2);
    for (let r = 0; r < rows; r++) {
      const j = intervalOf(earth.depth_m, (grid.depth_m[r]! + grid.depth_m[r + 1]!) / 2);
      out[c * rows + r] = j * across + i;
    }
  }
  return out;
}

/** The interval of ascending edges that holds a value; the first and the last go on for ever. */
function intervalOf(edges: readonly number[], value: number): number {
  let i = 0;
  while (i + 2 < edges.length && edges[i + 1]! <= value) i++;
  return i;
}

function solveAll(
  grid: SectionGrid,
  elements: SectionElements,
  { k_per_m, weight }: Wavenumbers,
): Float64Array {
  const sum = new Float64Array(grid.electrodeColumn.length ** 2);
  k_per_m.forEach((k, w) => {
    addAtElectrodes(sum, fieldsFor(grid, elements, k), {
      nodes: electrodeNodes(grid, elements),
      weight: (2 / Math.PI) * weight[w]!,
    });
  });
  return sum;
}

export function electrodeNodes(grid: SectionGrid, { numbering }: SectionElements): Int32Array {
  return grid.electrodeColumn.map((column) => cornerNode(numbering, column, 0));
}

/** Potentials at every node (row) for half an ampere into each electrode (column), at one k. */
export function fieldsFor(grid: SectionGrid, elements: SectionElements, k: number): Float64Array {
  return solvedFields(systemFor(elements, k), electrodeNodes(grid, elements));
}

/** The same of a system that is set up. */
export function solvedFields(system: BandMatrix, nodes: Int32Array): Float64Array {
  const m = nodes.length;
  const columns = new Float64Array(system.size * m);
  nodes.forEach((node, e) => {
    columns[node * m + e] = 0.5;
  });
  const inOrder = nodes.every((node, e) => e === 0 || node > nodes[e - 1]!);
  solveBandSystem(system, columns, inOrder ? nodes : new Int32Array(m));
  return columns;
}

/** Adds the weighted potentials at the electrodes (row) to an E × E matrix. */
export function addAtElectrodes(
  sum: Float64Array,
  fields: Float64Array,
  { nodes, weight }: { readonly nodes: Int32Array; readonly weight: number },
): void {
  const count = nodes.length;
  for (let at = 0; at < sum.length; at++) {
    const node = nodes[Math.floor(at / count)]!;
    sum[at] = sum[at]! + weight * fields[node * count + (at % count)]!;
  }
}
