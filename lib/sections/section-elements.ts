import { type BandMatrix, bandMatrix } from "../numerics/banded.js";
import { besselRatioK1K0 } from "./modified-bessel.js";
import type { SectionGrid } from "./section-grid.js";

/**
 * The bilinear finite elements of ∇·σ∇φ − k²σφ in a grid sheared to the topography. A shear keeps
 * areas, and within a column of cells it has one slope s, so that the element integrals are those of
 * a rectangle with φx² + 2 s φx φd + (1 + s²) φd² under them.
 */
export interface SectionElements {
  readonly rows: number;
  readonly size: number;
  /** Five diagonals a node: itself, the row above, and in the column before rows −1, 0, +1. */
  readonly stiffness: Float64Array;
  readonly mass: Float64Array;
  readonly edges: readonly BoundaryEdge[];
}

/** An edge of the outer boundary: two nodes, σ × length × cos(angle to the ray), and distance. */
interface BoundaryEdge {
  readonly p: number;
  readonly q: number;
  readonly flux: number;
  readonly distance_m: number;
}

const DIAGONALS = 5;

/** `conductivity` holds σ (S/m) of each cell, column by column, rows.length − 1 a column. */
export function sectionElements(grid: SectionGrid, conductivity: Float64Array): SectionElements {
  const rows = grid.depth_m.length;
  const size = grid.x_m.length * rows;
  const stiffness = new Float64Array(size * DIAGONALS);
  const mass = new Float64Array(size * DIAGONALS);
  for (let c = 0; c + 1 < grid.x_m.length; c++) {
    const width = grid.x_m[c + 1]! - grid.x_m[c]!;
    const slope = (grid.surface_m[c + 1]! - grid.surface_m[c]!) / width;
    for (let r = 0; r + 1 < rows; r++) {
      const height = grid.depth_m[r + 1]! - grid.depth_m[r]!;
      const sigma = conductivity[c * (rows - 1) + r]!;
      addCell({ stiffness, mass, rows, node: c * rows + r }, { width, height, slope, sigma });
    }
  }
  return { rows, size, stiffness, mass, edges: boundaryEdges(grid, conductivity) };
}

interface CellTarget {
  readonly stiffness: Float64Array;
  readonly mass: Float64Array;
  readonly rows: number;
  readonly node: number;
}

interface Cell {
  readonly width: number;
  readonly height: number;
  readonly slope: number;
  readonly sigma: number;
}

// Corners of a cell in the order (left, upper), (left, lower), (right, upper), (right, lower).
const SIDE = [-1, -1, 1, 1];
const LEVEL = [-1, 1, -1, 1];

const SHARE = 2 / 3;

function addCell({ stiffness, mass, rows, node }: CellTarget, cell: Cell): void {
  const nodes = [node, node + 1, node + rows, node + rows + 1];
  for (let i = 0; i < 4; i++) {
    for (let j = 0; j <= i; j++) {
      const at = diagonalOf(nodes[i]!, nodes[j]!, rows);
      stiffness[at] = stiffness[at]! + cell.sigma * stiffnessEntry(cell, i, j);
      mass[at] = mass[at]! + cell.sigma * massEntry(cell, i, j);
    }
  }
}

function stiffnessEntry({ width, height, slope }: Cell, i: number, j: number): number {
  const [si, sj, li, lj] = [SIDE[i]!, SIDE[j]!, LEVEL[i]!, LEVEL[j]!];
  const alongX = (si * sj * (1 + SHARE * li * lj) * height) / (4 * width);
  const alongDepth = (li * lj * (1 + SHARE * si * sj) * width) / (4 * height);
  const mixed = (si * lj + li * sj) / 4;
  return alongX + slope * mixed + (1 + slope * slope) * alongDepth;
}

function massEntry({ width, height }: Cell, i: number, j: number): number {
  return (
    ((1 + SHARE * SIDE[i]! * SIDE[j]!) * (1 + SHARE * LEVEL[i]! * LEVEL[j]!) * width * height) / 16
  );
}

/** Where the entry (i, j), j ≤ i, stands in the five diagonals. */
function diagonalOf(i: number, j: number, rows: number): number {
  const back = i - j;
  return i * DIAGONALS + (back <= 1 ? back : 3 - (back - rows));
}

function boundaryEdges(grid: SectionGrid, conductivity: Float64Array): BoundaryEdge[] {
  const rows = grid.depth_m.length;
  const last = grid.x_m.length - 1;
  const edges: BoundaryEdge[] = [];
  const add = (p: number, q: number, sigma: number) => edges.push(boundaryEdge(grid, p, q, sigma));
  for (let r = 0; r + 1 < rows; r++) {
    add(r, r + 1, conductivity[r]!);
    add(last * rows + r + 1, last * rows + r, conductivity[(last - 1) * (rows - 1) + r]!);
  }
  for (let c = 0; c < last; c++) {
    add(c * rows + rows - 1, (c + 1) * rows + rows - 1, conductivity[(c + 1) * (rows - 1) - 1]!);
  }
  return edges;
}

/** p to q runs with the ground on its left, seen with elevation up. */
function boundaryEdge(grid: SectionGrid, p: number, q: number, sigma: number): BoundaryEdge {
  const [px, pz] = position(grid, p);
  const [qx, qz] = position(grid, q);
  const [cx, cz] = centre(grid);
  const rx = (px + qx) / 2 - cx;
  const rz = (pz + qz) / 2 - cz;
  const distance = Math.hypot(rx, rz);
  const outward = ((qz - pz) * rx - (qx - px) * rz) / distance;
  return { p, q, flux: sigma * outward, distance_m: distance };
}

function position(grid: SectionGrid, node: number): readonly [number, number] {
  const rows = grid.depth_m.length;
  const column = Math.floor(node / rows);
  return [grid.x_m[column]!, grid.surface_m[column]! - grid.depth_m[node % rows]!];
}

function centre({ x_m, surface_m, electrodeColumn }: SectionGrid): readonly [number, number] {
  const columns = Array.from(electrodeColumn);
  const mean = (values: Float64Array) =>
    columns.reduce((sum, column) => sum + values[column]!, 0) / columns.length;
  return [mean(x_m), mean(surface_m)];
}

/**
 * The system for one wavenumber, with the mixed boundary condition ∂φ/∂n = −k K1/K0 cos θ φ of a
 * line source at the middle of the electrodes (Dey & Morrison 1979).
 */
export function systemFor(elements: SectionElements, k_per_m: number): BandMatrix {
  const { rows, size, stiffness, mass, edges } = elements;
  const b = rows + 1;
  const matrix = bandMatrix(size, b);
  const k2 = k_per_m * k_per_m;
  const back = [0, 1, rows + 1, rows, rows - 1];
  for (let i = 0; i < size; i++) {
    for (let d = 0; d < DIAGONALS; d++) {
      const from = i * DIAGONALS + d;
      matrix.lower[i * (b + 1) + b - back[d]!] = stiffness[from]! + k2 * mass[from]!;
    }
  }
  for (const edge of edges) addEdge(matrix, edge, k_per_m);
  return matrix;
}

function addEdge({ lower, halfBandwidth: b }: BandMatrix, edge: BoundaryEdge, k: number): void {
  const weight = edge.flux * k * besselRatioK1K0(k * edge.distance_m);
  const add = (i: number, j: number, value: number) => {
    const at = i * (b + 1) + b - (i - j);
    lower[at] = lower[at]! + value;
  };
  add(edge.p, edge.p, weight / 3);
  add(edge.q, edge.q, weight / 3);
  add(Math.max(edge.p, edge.q), Math.min(edge.p, edge.q), weight / 6);
}
