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

/** The grid's cells and outer edges by section cell. */
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
  cells.forEach(({ nodes }, at) => {
    const cell = cellUnder[at]!;
    open[cell]!.cells.push({ at, places: placed(cell, nodes) });
  });
  edges.forEach((edge, at) => {
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
  const here = new Float64Array(most * at.count);
  const flux = new Float64Array(most * at.count);
  const pairs = (at.count * (at.count - 1)) / 2;
  patches.forEach((patch, cell) => {
    gather(patch.nodes, at, here);
    fluxOf(patch, at, { here, flux });
    addProducts(perCell.subarray(cell * pairs, (cell + 1) * pairs), {
      ...{ here, flux, rows: patch.nodes.length },
      count: at.count,
    });
  });
}

function gather(nodes: Int32Array, at: FieldsAtOneWavenumber, here: Float64Array): void {
  const { fields, count } = at;
  nodes.forEach((node, p) => {
    here.set(fields.subarray(node * count, (node + 1) * count), p * count);
  });
}

interface PatchFields {
  readonly here: Float64Array;
  readonly flux: Float64Array;
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
  { here, flux }: PatchFields,
  { count, weight }: FieldsAtOneWavenumber,
  { places, local }: { readonly places: Int32Array; readonly local: Float64Array },
): void {
  const n = places.length;
  const from = new Int32Array(8);
  const share = new Float64Array(8);
  for (let p = 0; p < n; p++) {
    if (places[p]! < 0) continue;
    let terms = 0;
    for (let q = 0; q < n; q++) {
      if (places[q]! < 0) continue;
      from[terms] = places[q]! * count;
      share[terms] = weight * local[n * p + q]!;
      terms += 1;
    }
    share.fill(0, terms);
    addEight(flux.subarray(places[p]! * count, (places[p]! + 1) * count), here, { from, share });
  }
}

/** Adds Σ share × row over eight rows, the sum being as long as a row. */
function addEight(
  sum: Float64Array,
  rows: Float64Array,
  { from, share }: { readonly from: Int32Array; readonly share: Float64Array },
): void {
  const [f0, f1, f2, f3] = [from[0]!, from[1]!, from[2]!, from[3]!];
  const [f4, f5, f6, f7] = [from[4]!, from[5]!, from[6]!, from[7]!];
  const [s0, s1, s2, s3] = [share[0]!, share[1]!, share[2]!, share[3]!];
  const [s4, s5, s6, s7] = [share[4]!, share[5]!, share[6]!, share[7]!];
  for (let e = 0; e < sum.length; e++) {
    const one = s0 * rows[f0 + e]! + s1 * rows[f1 + e]! + (s2 * rows[f2 + e]! + s3 * rows[f3 + e]!);
    const two = s4 * rows[f4 + e]! + s5 * rows[f5 + e]! + (s6 * rows[f6 + e]! + s7 * rows[f7 + e]!);
    sum[e] = sum[e]! + one + two;
  }
}

/** Adds Σ over rows of here_i flux_j, i > j; four rows a pass. */
function addProducts(
  sum: Float64Array,
  { here, flux, rows, count }: PatchFields & { readonly rows: number; readonly count: number },
): void {
  const padded = 4 * Math.ceil(rows / 4);
  here.fill(0, rows * count, padded * count);
  for (let p = 0; p < padded; p += 4) {
    const [r0, r1, r2, r3] = [p * count, (p + 1) * count, (p + 2) * count, (p + 3) * count];
    for (let i = 1, at = 0; i < count; i++) {
      const [a0, a1] = [here[r0 + i]!, here[r1 + i]!];
      const [a2, a3] = [here[r2 + i]!, here[r3 + i]!];
      for (let j = 0; j < i; j++, at++) {
        const even = a0 * flux[r0 + j]! + a1 * flux[r1 + j]!;
        sum[at] = sum[at]! + even + (a2 * flux[r2 + j]! + a3 * flux[r3 + j]!);
      }
    }
  }
}
