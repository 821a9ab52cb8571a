import { passes, vectorKernels } from "../../numerics/wasm/kernels.js";
import {
  cellMatrix,
  edgeMatrix,
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
  const wide = passes(count);
  const lengths = [most * wide, most * wide, count * wide];
  const columns = vectorKernels().columns(...lengths);
  const [here, flux, sum] = columns as readonly [Float64Array, Float64Array, Float64Array];
  for (const column of columns) column.fill(0);
  const pairs = (count * (count - 1)) / 2;
  patches.forEach((patch, cell) => {
    gather(patch.nodes, at, { here, wide });
    fluxOf(patch, at, { here, flux, wide });
    addProducts(perCell.subarray(cell * pairs, (cell + 1) * pairs), {
      ...{ here, flux, wide, sum, count },
      rows: patch.nodes.length,
    });
  });
}

function gather(
  nodes: Int32Array,
  { fields, count }: FieldsAtOneWavenumber,
  { here, wide }: Pick<PatchFields, "here" | "wide">,
): void {
  nodes.forEach((node, p) => {
    here.set(fields.subarray(node * count, (node + 1) * count), p * wide);
  });
}

/** Rows of a patch's nodes in the kernels' memory, `wide` doubles apart. */
interface PatchFields {
  readonly here: Float64Array;
  readonly flux: Float64Array;
  readonly wide: number;
}

/** weight × K_c φ at the patch's nodes. */
function fluxOf(patch: Patch, at: FieldsAtOneWavenumber, fields: PatchFields): void {
  const { elements, k } = at;
  const local = new Float64Array(81);
  fields.flux.fill(0);
  for (const { at: cell, places } of patch.cells) {
    cellMatrix(elements.cells[cell]!, k, local);
    addFlux(fields, at, { places, local });
  }
  for (const { at: edge, places } of patch.edges) {
    edgeMatrix(elements.edges[edge]!, k, local);
    addFlux(fields, at, { places, local });
  }
}

/** Adds weight × local × φ of one element, up to eight of its nodes a pass. */
function addFlux(
  { here, flux, wide }: PatchFields,
  { weight }: FieldsAtOneWavenumber,
  { places, local }: { readonly places: Int32Array; readonly local: Float64Array },
): void {
  const { run } = vectorKernels();
  const n = places.length;
  const row = 8 * wide;
  const from = new Int32Array(8);
  const share = new Float64Array(8);
  for (let p = 0; p < n; p++) {
    if (places[p]! < 0) continue;
    let terms = 0;
    for (let q = 0; q < n; q++) {
      if (places[q]! < 0) continue;
      from[terms] = here.byteOffset + places[q]! * row;
      share[terms] = weight * local[n * p + q]!;
      terms += 1;
    }
    share.fill(0, terms);
    run.addEight(flux.byteOffset + places[p]! * row, row, ...from, ...share);
  }
}

interface PatchProducts extends PatchFields {
  /** Room for a row of products an electrode. */
  readonly sum: Float64Array;
  readonly rows: number;
  readonly count: number;
}

/** Adds Σ over rows of here_i flux_j, i > j; four rows a pass. */
function addProducts(perPair: Float64Array, products: PatchProducts): void {
  const { here, flux, wide, sum, rows, count } = products;
  const padded = 4 * Math.ceil(rows / 4);
  here.fill(0, rows * wide, padded * wide);
  for (let i = 1, at = 0; i < count; at += i, i++) {
    sum.set(perPair.subarray(at, at + i), i * wide);
  }
  const given = [sum.byteOffset, 8 * wide, here.byteOffset, flux.byteOffset] as const;
  vectorKernels().run.addProductsInPairs(...given, 8 * wide, padded, count, 0);
  for (let i = 1, at = 0; i < count; at += i, i++) {
    perPair.set(sum.subarray(i * wide, i * wide + i), at);
  }
}
