import { passes, vectorKernels } from "../../numerics/wasm/kernels.js";
import {
  edgeMatrix,
  matrixOf,
  type SectionElements,
  sectionElements,
} from "../section-elements.js";
import type { SectionGrid } from "../section-grid.js";

/** The elements of one of the section's cells. */
export interface Patch {
  /** Numbers of its nodes, each once. */
  readonly nodes: Int32Array;
  /** Elements: number of the grid's cell, and its nodes' places in `nodes`. */
  readonly cells: readonly PatchPart[];
  /** Edges of the outer boundary, the same way. */
  readonly edges: readonly PatchPart[];
}

interface PatchPart {
  readonly at: number;
  readonly places: Int32Array;
}

/** The grid's cells and outer edges by section cell; those of water belong to none. */
export function patchesOf(grid: SectionGrid, cellUnder: Int32Array, count: number): Patch[] {
  const { cells, edges } = sectionElements(grid, new Float64Array(cellUnder.length).fill(1));
  const open = Array.from({ length: count }, () => ({
    placeOf: new Map<number, number>(),
    cells: [] as PatchPart[],
    edges: [] as PatchPart[],
  }));
  const placed = (cell: number, nodes: ArrayLike<number>): Int32Array => {
    const { placeOf } = open[cell]!;
    return Int32Array.from(nodes, (node) => {
      if (node < 0) return -1;
      const place = placeOf.get(node) ?? placeOf.size;
      placeOf.set(node, place);
      return place;
    });
  };
  cells.slice(0, cellUnder.length).forEach(({ nodes }, at) => {
    const cell = cellUnder[at]!;
    open[cell]!.cells.push({ at, places: placed(cell, nodes) });
  });
  edges.forEach((edge, at) => {
    if (edge.cell < 0) return;
    const cell = cellUnder[edge.cell]!;
    open[cell]!.edges.push({ at, places: placed(cell, edge.nodes) });
  });
  return open.map(({ placeOf, ...parts }) => ({
    nodes: Int32Array.from(placeOf.keys()),
    ...parts,
  }));
}

export interface FieldsAtOneWavenumber {
  readonly elements: SectionElements;
  /** Of the elements' cells, as `cellMatrices` gives them. */
  readonly matrices: Float64Array;
  /** Nodes × electrodes. */
  readonly fields: Float64Array;
  readonly k: number;
  /** Of electrodes. */
  readonly count: number;
  readonly weight: number;
}

/**
 * Adds weight × φ_iᵀ K_c φ_j, i > j, of every cell c and pair of electrodes: by reciprocity what
 * the potential at i answers to the cell's ln ρ for current into j. K_c is the cell's part of the
 * system, which is proportional to its conductivity.
 */
export function addSensitivities(
  perCell: Float64Array,
  patches: readonly Patch[],
  at: FieldsAtOneWavenumber,
): void {
  const most = Math.max(...patches.map(({ nodes }) => nodes.length)) + 3;
  const { count } = at;
  const room = new PatchRoom(most, count);
  const pairs = (count * (count - 1)) / 2;
  patches.forEach((patch, cell) => {
    gather(patch.nodes, at, room);
    fluxOf(patch, at, room);
    const perPair = perCell.subarray(cell * pairs, (cell + 1) * pairs);
    addProducts(perPair, patch.nodes.length, room);
  });
}

/** Nodes that an element's terms are made of: the one inside is gone. */
const TERMS = 8;

/** Rows of a patch's nodes in the kernels' memory, `wide` doubles apart. */
class PatchRoom {
  readonly wide: number;
  readonly here: Float64Array;
  readonly flux: Float64Array;
  /** Room for a row of products an electrode. */
  readonly sum: Float64Array;
  /** Of one element: eight shares a row, and the distances of its rows in bytes. */
  readonly share: Float64Array;
  readonly place: Int32Array;

  constructor(
    most: number,
    readonly count: number,
  ) {
    this.wide = passes(count);
    const rows = [most * this.wide, most * this.wide, count * this.wide];
    const columns = vectorKernels().columns(...rows, TERMS * TERMS, TERMS / 2);
    const [here, flux, sum, share, place] = columns as readonly [
      ...[Float64Array, Float64Array, Float64Array, Float64Array, Float64Array],
    ];
    for (const column of columns) column.fill(0);
    [this.here, this.flux, this.sum, this.share] = [here, flux, sum, share];
    this.place = new Int32Array(place.buffer, place.byteOffset, TERMS);
  }
}

function gather(
  nodes: Int32Array,
  { fields, count }: FieldsAtOneWavenumber,
  { here, wide }: PatchRoom,
): void {
  for (let p = 0; p < nodes.length; p++) {
    const from = nodes[p]! * count;
    for (let e = 0, to = p * wide; e < count; e++, to++) here[to] = fields[from + e]!;
  }
}

/** weight × K_c φ at the patch's nodes. */
function fluxOf(patch: Patch, at: FieldsAtOneWavenumber, room: PatchRoom): void {
  const { elements, matrices, k, weight } = at;
  const local = new Float64Array(9);
  room.flux.fill(0, 0, patch.nodes.length * room.wide);
  for (const { at: cell, places } of patch.cells) {
    addFlux(room, weight, { places, local: matrixOf(matrices, cell) });
  }
  for (const { at: edge, places } of patch.edges) {
    edgeMatrix(elements.edges[edge]!, k, local);
    addFlux(room, weight, { places, local });
  }
}

/** Adds weight × local × φ of one element. */
function addFlux(
  { here, flux, wide, share, place }: PatchRoom,
  weight: number,
  { places, local }: { readonly places: Int32Array; readonly local: Float64Array },
): void {
  const n = places.length;
  share.fill(0);
  place.fill(0);
  for (let p = 0, row = 0; p < n; p++) {
    if (places[p]! < 0) continue;
    place[row] = 8 * wide * places[p]!;
    for (let q = 0, term = 0; q < n; q++) {
      if (places[q]! >= 0) share[TERMS * row + term++] = weight * local[n * p + q]!;
    }
    row += 1;
  }
  const given = [flux.byteOffset, here.byteOffset, place.byteOffset, share.byteOffset] as const;
  vectorKernels().run.addElement(...given, 8 * wide);
}

/** Adds Σ over rows of here_i flux_j, i > j; four rows a pass. */
function addProducts(perPair: Float64Array, rows: number, room: PatchRoom): void {
  const { here, flux, wide, sum, count } = room;
  const padded = 4 * Math.ceil(rows / 4);
  here.fill(0, rows * wide, padded * wide);
  flux.fill(0, rows * wide, padded * wide);
  for (let i = 1, at = 0; i < count; i++) {
    for (let j = 0, to = i * wide; j < i; j++) sum[to++] = perPair[at++]!;
  }
  const given = [sum.byteOffset, 8 * wide, here.byteOffset, flux.byteOffset] as const;
  vectorKernels().run.addProductsInPairs(...given, 8 * wide, padded, count, 0);
  for (let i = 1, at = 0; i < count; i++) {
    for (let j = 0, from = i * wide; j < i; j++) perPair[at++] = sum[from++]!;
  }
}
