import { alongStrike, type WavenumberSamples } from "../../earth/embankment/strike-transform.js";
import { geometricFactor, type Spread } from "../../earth/spread.js";
import { entryOf, itemAt } from "../../numerics/arrays.js";
import { sectionElements } from "../section-elements.js";
import { type SectionGrid, sectionGrid } from "../section-grid.js";
import type { SectionEarth, SectionElectrode } from "../section-input.js";
import { cellsUnder, electrodeNodes, fieldsFor, flattened } from "../section-potentials.js";

/** An embankment cut across: its ground, its surface, and where a line runs along it. */
export interface CrossSectionEarth {
  /** Cells across the embankment, depths below the surface. */
  readonly earth: SectionEarth;
  /** Points of the surface, straight between them and level beyond. */
  readonly surface: readonly SectionElectrode[];
  /** Of the points of the surface, the one on which the line runs. */
  readonly line: number;
}

/** Of the wavenumbers, in ln k. */
const STEP = 0.4;
/** The smallest cells at the line, as a share of the shortest distance of electrodes. */
const CELL_SHARE = 0.25;

/**
 * Apparent resistivities, ohm-m, along an embankment that goes on for ever: the 2.5-D forward model
 * turned across strike, with source and electrodes on one line along strike.
 *
 * At each wavenumber along strike the potential at the line, less what the same grid, flattened and
 * of the line's own resistivity throughout, gives there, is smooth; V(y) = ρ/2πy + (2/π) ∫ of it
 * cos(k y) dk, and ρ_a with the flat-ground factor.
 *
 * `spreads`: positions along the line, m; `Infinity` is remote. Good to 0.5 % where the cells next
 * to the line are of one resistivity out to its shortest electrode distance.
 */
export function crestResponse(across: CrossSectionEarth, spreads: readonly Spread[]): number[] {
  const pairs = spreads.map(signedDistances);
  const distances = [...new Set(pairs.flat().map(([y]) => y))];
  const { samples, resistivity_ohm_m } = secondarySamples(across, distances);
  const secondary = new Map(distances.map((y) => [y, alongStrike(samples, y)]));
  return spreads.map((spread, i) => {
    const sum = itemAt(pairs, i).reduce((all, [y, sign]) => all + sign * entryOf(secondary, y), 0);
    return resistivity_ohm_m + geometricFactor(spread) * sum;
  });
}

function signedDistances({ a_m, b_m, m_m, n_m }: Spread): (readonly [number, number])[] {
  const all = [
    [Math.abs(a_m - m_m), 1],
    [Math.abs(b_m - m_m), -1],
    [Math.abs(a_m - n_m), -1],
    [Math.abs(b_m - n_m), 1],
  ] as const;
  return all.filter(([distance]) => Number.isFinite(distance));
}

function secondarySamples(
  { earth, surface, line }: CrossSectionEarth,
  distances: readonly number[],
): { readonly samples: WavenumberSamples; readonly resistivity_ohm_m: number } {
  const nearest = Math.min(...distances);
  const farthest = Math.max(...distances);
  const { grid, source } = lineGrid(earth, { surface, line, cell_m: CELL_SHARE * nearest });
  const values = earth.resistivity_ohm_m.flat();
  const sigma = Float64Array.from(cellsUnder(grid, earth), (cell) => 1 / itemAt(values, cell));
  const rows = grid.depth_m.length - 1;
  const own = itemAt(sigma, itemAt(grid.electrodeColumn, source) * rows);
  const ground = sectionElements(grid, sigma);
  const flat = flattened(grid);
  const even = sectionElements(flat, new Float64Array(sigma.length).fill(own));
  const node = itemAt(electrodeNodes(grid, ground), source);
  const count = grid.electrodeColumn.length;
  const size = Math.max(farthest, ...surface.map(({ x_m }) => Math.abs(x_m)));
  const low = Math.log(0.01 / size);
  const samples = 2 + Math.ceil((Math.log(8 / nearest) - low) / STEP);
  const at = (k: number) => {
    const place = node * count + source;
    return itemAt(fieldsFor(grid, ground, k), place) - itemAt(fieldsFor(flat, even, k), place);
  };
  const sampled = Float64Array.from({ length: samples }, (_, i) => at(Math.exp(low + i * STEP)));
  return { samples: { low, step: STEP, values: sampled }, resistivity_ohm_m: 1 / own };
}

interface LineOnSurface {
  readonly surface: readonly SectionElectrode[];
  readonly line: number;
  readonly cell_m: number;
}

/** A grid with columns at the surface's points, and two more beside the line that make it fine. */
function lineGrid(
  earth: SectionEarth,
  { surface, line, cell_m }: LineOnSurface,
): { readonly grid: SectionGrid; readonly source: number } {
  const { x_m, elevation_m } = itemAt(surface, line);
  const beside = [-4 * cell_m, 4 * cell_m]
    .map((away) => x_m + away)
    .filter((x) => surface.every((point) => Math.abs(point.x_m - x) > 2 * cell_m))
    .map((x) => ({ x_m: x, elevation_m }));
  const points = [...surface, ...beside];
  return { grid: sectionGrid(earth, points, { cells: 3 }), source: line };
}
