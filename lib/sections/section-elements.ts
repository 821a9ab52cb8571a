import { type BandMatrix, bandMatrix } from "../numerics/algebra/banded.js";
import { neighbours } from "../numerics/arrays.js";
import { besselRatioK1K0 } from "../numerics/functions/modified-bessel.js";
import type { SectionGrid } from "./section-grid.js";
import { type CellIntegrals, waterIntegrals } from "./water/water-cells.js";

/**
 * Biquadratic finite elements of ∇·σ∇φ − k²σφ in a grid of cells sheared to the topography. A shear
 * keeps areas, and a column of cells has one slope s, so that the integrals over a cell are those
 * over a rectangle with φx² + 2 s φx φd + (1 + s²) φd² under them, products of one-dimensional
 * ones. The node inside a cell is eliminated within the cell.
 */
export interface SectionElements {
  readonly numbering: Numbering;
  readonly cells: readonly Cell[];
  readonly edges: readonly BoundaryEdge[];
}

/** Nodes down the left side of a column of cells, two a row and one; then its level edges'. */
export interface Numbering {
  /** Rows of cells above the ground, of water; where a column is dry their nodes stand alone. */
  readonly above: number;
  /** Rows of cells below the ground's surface. */
  readonly down: number;
  /** Columns of cells. */
  readonly across: number;
}

export interface Cell {
  /** Numbers of its nodes, column by column from the left; −1 for the one inside. */
  readonly nodes: Int32Array;
  readonly width: number;
  readonly height: number;
  readonly slope: number;
  readonly sigma: number;
  /** Of a cell of water, whose base slopes against its top. */
  readonly integrals?: CellIntegrals;
}

/** An edge of the outer boundary: σ × length × cos(angle to the ray), and distance. */
export interface BoundaryEdge {
  readonly nodes: readonly [number, number, number];
  readonly flux: number;
  readonly distance_m: number;
  /** The cell of the ground that it belongs to; −1 for water. */
  readonly cell: number;
}

// Integrals over (0, 1) of the quadratic shape functions of the nodes 0, 1/2, 1; row by row.
const VALUE = [4, 2, -1, 2, 16, 2, -1, 2, 4].map((entry) => entry / 30);
const GRADIENT = [7, -8, 1, -8, 16, -8, 1, -8, 7].map((entry) => entry / 3);
/** The row's function differentiated. */
const CROSSED = [-3, -4, 1, 4, 0, -4, -1, 4, 3].map((entry) => entry / 6);
const CROSSED_BACK = [-3, 4, -1, -4, 0, 4, 1, -4, 3].map((entry) => entry / 6);
/** The same as VALUE by Simpson's rule: fields that die within a cell then stay free of ripples. */
const LUMPED = [1, 0, 0, 0, 4, 0, 0, 0, 1].map((entry) => entry / 6);

const ALONG_X = product(GRADIENT, VALUE);
const ALONG_DEPTH = product(VALUE, GRADIENT);
const MIXED = product(CROSSED, CROSSED_BACK).map(
  (entry, at) => entry + product(CROSSED_BACK, CROSSED)[at]!,
);
const MASS = product(LUMPED, LUMPED);
const INSIDE = 4;

/** 9 × 9 integrals over a cell from those along x and along depth. */
function product(alongX: readonly number[], alongDepth: readonly number[]): Float64Array {
  return Float64Array.from({ length: 81 }, (_, at) => {
    const [p, q] = [Math.floor(at / 9), at % 9];
    const x = 3 * Math.floor(p / 3) + Math.floor(q / 3);
    return alongX[x]! * alongDepth[3 * (p % 3) + (q % 3)]!;
  });
}

/** Number of the node at a corner of cells, counted in columns and rows from the surface down. */
export function cornerNode({ above, down }: Numbering, column: number, row: number): number {
  return column * (3 * (above + down) + 2) + 2 * (above + row);
}

/** Number of the node in the middle of a level edge. */
function middleNode(numbering: Numbering, column: number, row: number): number {
  return cornerNode(numbering, column, numbering.down) + 1 + numbering.above + row;
}

function cellNodes(numbering: Numbering, c: number, r: number): Int32Array {
  const left = cornerNode(numbering, c, r);
  const right = cornerNode(numbering, c + 1, r);
  const middle = middleNode(numbering, c, r);
  const inside = -1;
  return Int32Array.of(
    ...[left, left + 1, left + 2],
    ...[middle, inside, middle + 1],
    ...[right, right + 1, right + 2],
  );
}

/** `conductivity` holds σ (S/m) of each cell of the ground, column by column; water comes last. */
export function sectionElements(grid: SectionGrid, conductivity: Float64Array): SectionElements {
  const above = grid.water === null ? 0 : grid.water.shares.length - 1;
  const numbering = { above, down: grid.depth_m.length - 1, across: grid.x_m.length - 1 };
  const cells: Cell[] = [];
  for (let c = 0; c < numbering.across; c++) {
    const width = grid.x_m[c + 1]! - grid.x_m[c]!;
    const slope = (grid.surface_m[c + 1]! - grid.surface_m[c]!) / width;
    for (let r = 0; r < numbering.down; r++) {
      const height = grid.depth_m[r + 1]! - grid.depth_m[r]!;
      const sigma = conductivity[c * numbering.down + r]!;
      cells.push({ nodes: cellNodes(numbering, c, r), width, height, slope, sigma });
    }
  }
  cells.push(...cellsOfWater(grid, numbering));
  return { numbering, cells, edges: boundaryEdges(grid, numbering, conductivity) };
}

function cellsOfWater({ x_m, water }: SectionGrid, numbering: Numbering): Cell[] {
  if (water === null) return [];
  const { depth_m, shares } = water;
  const sigma = 1 / water.resistivity_ohm_m;
  return Array.from({ length: numbering.across }, (_, c) => c).flatMap((c) => {
    const depth = [depth_m[c]!, depth_m[c + 1]!] as const;
    if (!(depth[0] > 0 && depth[1] > 0)) return [];
    const width = x_m[c + 1]! - x_m[c]!;
    return neighbours(Array.from(shares)).map((own, r) => ({
      nodes: cellNodes(numbering, c, r - numbering.above),
      integrals: waterIntegrals({ width, depth, shares: own }),
      ...{ width, height: (own[1] - own[0]) * depth[0], slope: 0, sigma },
    }));
  });
}

function boundaryEdges(
  grid: SectionGrid,
  numbering: Numbering,
  conductivity: Float64Array,
): BoundaryEdge[] {
  const { above, down, across } = numbering;
  const water = 1 / (grid.water?.resistivity_ohm_m ?? Number.NaN);
  const edge = (nodes: BoundaryEdge["nodes"], corners: EdgeCorners, cell: number) => ({
    nodes,
    cell,
    ...outwardFlux(grid, corners, cell < 0 ? water : conductivity[cell]!),
  });
  const edges: BoundaryEdge[] = [];
  const isWet = (column: number) => (grid.water?.depth_m[column] ?? 0) > 0;
  for (let r = -above; r < down; r++) {
    const left = cornerNode(numbering, 0, r);
    if (r >= 0 || isWet(0)) {
      const corners = [0, r, 0, r + 1] as const;
      edges.push(edge([left, left + 1, left + 2], corners, Math.max(-1, r)));
    }
    if (r < 0 && !isWet(across)) continue;
    const right = cornerNode(numbering, across, r);
    const corners = [across, r + 1, across, r] as const;
    edges.push(edge([right, right + 1, right + 2], corners, r < 0 ? -1 : (across - 1) * down + r));
  }
  for (let c = 0; c < across; c++) {
    const [left, right] = [cornerNode(numbering, c, down), cornerNode(numbering, c + 1, down)];
    const nodes = [left, middleNode(numbering, c, down), right] as const;
    edges.push(edge(nodes, [c, down, c + 1, down], c * down + down - 1));
  }
  return edges;
}

/** Column and row of one corner, then of the next, with the ground on the left as z goes up. */
type EdgeCorners = readonly [number, number, number, number];

function outwardFlux(grid: SectionGrid, [pc, pr, qc, qr]: EdgeCorners, sigma: number) {
  const [dx, dz] = [
    grid.x_m[qc]! - grid.x_m[pc]!,
    cornerElevation(grid, qc, qr) - cornerElevation(grid, pc, pr),
  ];
  const [cx, cz] = centre(grid);
  const rx = grid.x_m[pc]! + dx / 2 - cx;
  const rz = cornerElevation(grid, pc, pr) + dz / 2 - cz;
  const distance_m = Math.hypot(rx, rz);
  return { flux: (sigma * (dz * rx - dx * rz)) / distance_m, distance_m };
}

function cornerElevation({ surface_m, depth_m, water }: SectionGrid, c: number, r: number): number {
  if (r >= 0 || water === null) return surface_m[c]! - depth_m[r]!;
  const { shares, depth_m: over } = water;
  return surface_m[c]! + over[c]! * (1 - shares[shares.length - 1 + r]!);
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
export function systemFor(
  { numbering, cells, edges }: SectionElements,
  k: number,
  matrices: Float64Array = cellMatrices(cells, k),
): BandMatrix {
  const { above, down, across } = numbering;
  const last = cornerNode(numbering, across, down);
  const matrix = bandMatrix(last + 1, 3 * (above + down) + 4);
  const local = new Float64Array(9);
  for (let c = 0; c < cells.length; c++) addCell(matrix, cells[c]!.nodes, matrixOf(matrices, c));
  for (const edge of edges) {
    edgeMatrix(edge, k, local);
    for (let p = 0; p < 3; p++) {
      for (let q = 0; q <= p; q++) {
        addEntry(matrix, [edge.nodes[p]!, edge.nodes[q]!], local[3 * p + q]!);
      }
    }
  }
  if (above > 0) keepApart(matrix);
  return matrix;
}

/** Nodes of no cell, over dry ground, are unknowns of their own. */
function keepApart({ lower, halfBandwidth: b, size }: BandMatrix): void {
  for (let i = 0; i < size; i++) {
    const at = i * (b + 1) + b;
    if (lower[at] === 0) lower[at] = 1;
  }
}

/** An edge's 3 × 3 integrals. */
export function edgeMatrix({ flux, distance_m }: BoundaryEdge, k: number, local: Float64Array) {
  const weight = flux * k * besselRatioK1K0(k * distance_m);
  for (let at = 0; at < 9; at++) local[at] = weight * VALUE[at]!;
}

/** Of each cell its 9 × 9 integrals, less what goes through the node inside. */
export function cellMatrices(cells: readonly Cell[], k: number): Float64Array {
  const matrices = new Float64Array(81 * cells.length);
  for (let c = 0; c < cells.length; c++) cellMatrix(cells[c]!, k, matrixOf(matrices, c));
  return matrices;
}

/** One cell's part of the matrices of all. */
export function matrixOf(matrices: Float64Array, cell: number): Float64Array {
  return matrices.subarray(81 * cell, 81 * cell + 81);
}

function cellMatrix(cell: Cell, k: number, local: Float64Array): void {
  wholeCellMatrix(cell, k, local);
  const pivot = local[9 * INSIDE + INSIDE]!;
  for (let p = 0; p < 9; p++) {
    if (p === INSIDE) continue;
    const share = local[9 * p + INSIDE]! / pivot;
    for (let q = 0; q < 9; q++) {
      if (q !== INSIDE) local[9 * p + q] = local[9 * p + q]! - share * local[9 * INSIDE + q]!;
    }
  }
}

function wholeCellMatrix(
  { width, height, slope, sigma, integrals }: Cell,
  k: number,
  local: Float64Array,
): void {
  if (integrals !== undefined) {
    const { gradients, values } = integrals;
    for (let at = 0; at < 81; at++) local[at] = sigma * (gradients[at]! + k * k * values[at]!);
    return;
  }
  const alongX = (sigma * height) / width;
  const alongDepth = (sigma * (1 + slope * slope) * width) / height;
  const mixed = sigma * slope;
  const mass = sigma * k * k * width * height;
  for (let at = 0; at < 81; at++) {
    local[at] =
      alongX * ALONG_X[at]! + alongDepth * ALONG_DEPTH[at]! + mixed * MIXED[at]! + mass * MASS[at]!;
  }
}

function addCell(matrix: BandMatrix, nodes: Int32Array, local: Float64Array): void {
  for (let p = 0; p < 9; p++) {
    if (p === INSIDE) continue;
    for (let q = 0; q <= p; q++) {
      if (q !== INSIDE) addEntry(matrix, [nodes[p]!, nodes[q]!], local[9 * p + q]!);
    }
  }
}

/** Adds to entry (i, j), j ≤ i: the nodes of a cell ascend, so the lower half suffices. */
function addEntry(matrix: BandMatrix, [i, j]: readonly [number, number], value: number): void {
  const { lower, halfBandwidth: b } = matrix;
  const at = i * (b + 1) + b - i + j;
  lower[at] = lower[at]! + value;
}
