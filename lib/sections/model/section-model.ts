import { firstOf, lastOf, neighbours } from "../../numerics/arrays.js";
import {
  cellMatrices,
  type SectionElements,
  sectionElements,
  systemFor,
} from "../section-elements.js";
import { type SectionGrid, sectionGrid } from "../section-grid.js";
import type { SectionElectrode, SectionWater } from "../section-input.js";
import {
  addAtElectrodes,
  cellsUnder,
  electrodeNodes,
  fieldsFor,
  flattened,
  solvedFields,
} from "../section-potentials.js";
import type { Wavenumbers } from "../wavenumbers.js";
import { fittedWavenumbers } from "./fitted-wavenumbers.js";
import { addSensitivities, type Patch, patchesOf } from "./patches.js";
import type { SectionCells } from "./section-cells.js";

/** What stays the same over all forward runs of an inversion. */
export interface SectionModel {
  readonly cells: SectionCells;
  readonly electrodes: readonly SectionElectrode[];
  readonly grid: SectionGrid;
  readonly transform: Wavenumbers;
  /** For each cell of the grid, the section's cell, column by column from the top. */
  readonly cellUnder: Int32Array;
  /** The grid's part of each of the section's cells. */
  readonly patches: readonly Patch[];
  /** Exact over the grid's own potential of even flat ground, E × E; 0 on the diagonal. */
  readonly calibration: Float64Array;
}

/** Potentials between electrodes and how they answer to the cells. */
export interface ElectrodePotentials {
  /** V at electrode i for 1 A into electrode j, i > j at i (i − 1)/2 + j. */
  readonly volt_per_A: Float64Array;
  /** d/d ln ρ of each, cell by cell; null where it was not asked for. */
  readonly perCell: Float64Array | null;
}

/** Cells of the grid per electrode spacing, and the step between wavenumbers in ln k. */
export interface ModelFineness {
  readonly cellsPerSpacing: number;
  readonly wavenumberStep: number;
  /** Over the ground; none where left out. */
  readonly water?: SectionWater | null;
}

/** Lengths of the line below which nothing of its readings is told apart. */
const COARSE_BELOW = 1;

export function sectionModel(
  cells: SectionCells,
  electrodes: readonly SectionElectrode[],
  { cellsPerSpacing, wavenumberStep, water = null }: ModelFineness,
): SectionModel {
  const earth = { ...cells, resistivity_ohm_m: [], ...(water && { water }) };
  const x = electrodes.map(({ x_m }) => x_m).sort((p, q) => p - q);
  const length_m = lastOf(x) - firstOf(x);
  const grid = sectionGrid(earth, electrodes, {
    cells: cellsPerSpacing,
    coarseBelow_m: COARSE_BELOW * length_m,
  });
  const transform = fittedWavenumbers({
    nearest_m: Math.min(...neighbours(x).map(([one, next]) => next - one)),
    farthest_m: 3 * length_m,
    step: wavenumberStep,
  });
  const [across, down] = [cells.x_m.length - 1, cells.depth_m.length - 1];
  const cellUnder = cellsUnder(grid, cells).map(
    (cell) => (cell % across) * down + Math.floor(cell / across),
  );
  const patches = patchesOf(grid, cellUnder, across * down);
  const calibration = calibrationOf(grid, transform);
  return { cells, electrodes, grid, transform, cellUnder, patches, calibration };
}

function calibrationOf(grid: SectionGrid, transform: Wavenumbers): Float64Array {
  const count = grid.electrodeColumn.length;
  const flat = flattened(grid);
  const even = new Float64Array((grid.x_m.length - 1) * (grid.depth_m.length - 1)).fill(1);
  const sum = new Float64Array(count * count);
  const elements = sectionElements(flat, even);
  transform.k_per_m.forEach((k, w) => {
    const nodes = electrodeNodes(flat, elements);
    addAtElectrodes(sum, fieldsFor(flat, elements, k), { nodes, weight: transform.weight[w]! });
  });
  return sum.map((_, at) => {
    const [i, j] = [Math.floor(at / count), at % count];
    if (i === j) return 0;
    const distance_m = Math.abs(
      grid.x_m[grid.electrodeColumn[i]!]! - grid.x_m[grid.electrodeColumn[j]!]!,
    );
    return 1 / (Math.PI * distance_m * (sum[at]! + sum[j * count + i]!));
  });
}

/** ρ of the cells, ohm-m, as elements of the model's grid. */
export function elementsOf(model: SectionModel, resistivity_ohm_m: Float64Array): SectionElements {
  const { grid, cellUnder } = model;
  const sigma = Float64Array.from(cellUnder, (cell) => 1 / resistivity_ohm_m[cell]!);
  return sectionElements(grid, sigma);
}

/** Gives the event loop a turn between wavenumbers; throws to stop the work. */
export type Turn = () => Promise<void>;

/** Potentials between all electrodes, and with `withSensitivities` how they answer to each cell. */
export async function electrodePotentialsOf(
  model: SectionModel,
  resistivity_ohm_m: Float64Array,
  { withSensitivities, turn }: { readonly withSensitivities: boolean; readonly turn: Turn },
): Promise<ElectrodePotentials> {
  const { grid, transform, patches, calibration } = model;
  const elements = elementsOf(model, resistivity_ohm_m);
  const nodes = electrodeNodes(grid, elements);
  const count = nodes.length;
  const sum = new Float64Array(count * count);
  const pairs = (count * (count - 1)) / 2;
  const perCell = withSensitivities ? new Float64Array(patches.length * pairs) : null;
  for (const [w, k] of transform.k_per_m.entries()) {
    const weight = transform.weight[w]!;
    const matrices = cellMatrices(elements.cells, k);
    const fields = solvedFields(systemFor(elements, k, matrices), nodes);
    addAtElectrodes(sum, fields, { nodes, weight });
    if (perCell !== null)
      addSensitivities(perCell, patches, { elements, matrices, fields, k, count, weight });
    await turn();
  }
  const scale = pairScales(calibration, count);
  perCell?.forEach((value, at) => {
    // Half an ampere makes each field: φ_i K φ_j is half of what one of them answers.
    perCell[at] = 2 * value * scale[at % pairs]!;
  });
  const both = pairScales(
    sum.map((value, at) => value + sum[(at % count) * count + Math.floor(at / count)]!),
    count,
  );
  return { volt_per_A: both.map((value, at) => 0.5 * value * scale[at]!), perCell };
}

/** The lower triangle of an E × E matrix without its diagonal. */
function pairScales(matrix: Float64Array, count: number): Float64Array {
  const out = new Float64Array((count * (count - 1)) / 2);
  for (let i = 1, at = 0; i < count; i++) {
    for (let j = 0; j < i; j++, at++) out[at] = matrix[i * count + j]!;
  }
  return out;
}
