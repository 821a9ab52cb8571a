import { neighbours } from "../../numerics/arrays.js";
import { linearBetween } from "../../numerics/functions/linear-between.js";
import { median } from "../../numerics/statistics/robust.js";
import { type SectionCells, sectionCells, usualSpacing } from "../model/section-cells.js";
import { type SectionModel, sectionModel } from "../model/section-model.js";
import { withDistinctPlaces } from "../readings/distinct-places.js";
import type { MeasuredReading } from "../readings/measured.js";
import type { ScreenedLine } from "../readings/screen-line.js";
import type { SectionElectrode, SectionWater } from "../section-input.js";
import type { InvertSectionOptions } from "../section-options.js";
import { shapeFactors } from "../shape/shape-factors.js";
import { waterOf } from "../water/water-of.js";
import { type CellGraph, cellGraph } from "./cell-graph.js";
import { priorDeterminant } from "./prior-determinant.js";
import type { SectionPrior } from "./sampler.js";
import type { SectionData } from "./section-data.js";
import { startFrom } from "./start-from.js";
import { type TieRow, tieRows } from "./tie-rows.js";

/** Readings in use, the model that answers them, and what is believed beforehand. */
export interface SectionProblem {
  readonly model: SectionModel;
  readonly data: SectionData;
  readonly prior: SectionPrior;
  /** ln ρ from which the steps start. */
  readonly start: Float64Array;
  readonly ties: readonly TieRow[];
  /** Of each reading in use, its place among the line's readings. */
  readonly inUse: readonly number[];
  /** Of each reading in use. */
  readonly shapeFactor: Float64Array;
  /** That the model was given; null for none. */
  readonly water: SectionWater | null;
}

/** Cells go down to so many times the greatest median depth. */
const DEEPER = 1.5;
const WAVENUMBER_STEP = 0.9;

export function sectionProblem(screened: ScreenedLine, used: InvertSectionOptions): SectionProblem {
  const line = withDistinctPlaces(screened);
  const inUse = line.causes.flatMap((cause, i) => (cause === "" ? [i] : []));
  const readings = inUse.map((i) => line.readings[i]!);
  const cells = cellsUnder(line.electrodes, readings, used);
  const water = waterOf(used);
  const fineness = {
    cellsPerSpacing: used.cellsPerSpacing,
    wavenumberStep: WAVENUMBER_STEP,
    water,
  };
  const model = sectionModel(cells, line.electrodes, fineness);
  const shapeFactor = shapeFactors(readings, line.electrodes, used);
  const data: SectionData = {
    spreads: readings.map(({ spread }) => spread),
    factor_m: Float64Array.from(readings, ({ factor_m }) => factor_m),
    logApparent: Float64Array.from(readings, ({ apparent_ohm_m }, n) =>
      Math.log(apparent_ohm_m / shapeFactor[n]!),
    ),
    sd: Float64Array.from(inUse, (i) => Math.hypot(line.sd[i]!, used.modelError)),
  };
  const prior = priorOf(model, median(data.logApparent), used);
  const start = startFrom(cells, readings, data.logApparent);
  const ties = tieRows(cells, used.ties);
  return { model, data, prior, start, ties, inUse, shapeFactor, water };
}

function cellsUnder(
  electrodes: readonly SectionElectrode[],
  readings: readonly MeasuredReading[],
  { columnsPerSpacing, depth_m, breaks }: InvertSectionOptions,
): SectionCells {
  const deepest = Math.max(...readings.map(({ medianDepth_m }) => medianDepth_m));
  const middleSurface = median(electrodes.map(({ elevation_m }) => elevation_m));
  return sectionCells(
    electrodes.map(({ x_m }) => x_m),
    {
      columnsPerSpacing,
      depth_m: depth_m === "readings" ? DEEPER * deepest : depth_m,
      snap_m: breaks.map(({ elevation_m }) => middleSurface - elevation_m),
    },
  );
}

/** Precision of ln ρ of a cell by itself: hardly any, so that the level is the readings'. */
const ANCHOR = 0.02;
/** Degrees of freedom of differences in blocky ground. */
const BLOCKY = 3;
/** Ratio of scales along and down where it is not found. */
const USUAL_SMOOTHNESS = 4;
/** Share of the usual weight across a break. */
const BROKEN = 0.02;

function priorOf(model: SectionModel, level: number, used: InvertSectionOptions): SectionPrior {
  const graph = cellGraph(model.cells);
  const cells = graph.across * graph.down;
  const anchor = new Float64Array(cells).fill(ANCHOR);
  const bond = bondsOf(model, graph, used);
  return {
    ...{ graph, bond, anchor },
    freedom: used.modelNorm === "blocky" ? BLOCKY : Infinity,
    centre: new Float64Array(cells).fill(level),
    ratio: ratioOf(used),
    determinant: priorDeterminant(graph, bond, anchor),
  };
}

function ratioOf({ smoothness, modelNorm }: InvertSectionOptions): number | null {
  if (smoothness !== "found") return smoothness ** -2;
  return modelNorm === "blocky" ? USUAL_SMOOTHNESS ** -2 : null;
}

function bondsOf(
  { cells, electrodes }: SectionModel,
  graph: CellGraph,
  { breaks }: InvertSectionOptions,
): Float64Array {
  const surface = columnSurface(cells, electrodes);
  const middles = neighbours(cells.depth_m).map(([top, base]) => (top + base) / 2);
  const elevation = (cell: number) =>
    surface[Math.floor(cell / graph.down)]! - middles[cell % graph.down]!;
  return Float64Array.from(graph.first, (first, face) => {
    const [high, low] = [elevation(first), elevation(graph.second[face]!)];
    const isBroken = breaks.some(
      ({ elevation_m: at }) => at < Math.max(high, low) && at >= Math.min(high, low),
    );
    return isBroken ? BROKEN : 1;
  });
}

/** Elevation of the surface at the middle of each column. */
export function columnSurface(
  { x_m }: SectionCells,
  electrodes: SectionModel["electrodes"],
): Float64Array {
  const positions = electrodes.map((electrode) => electrode.x_m);
  const elevations = electrodes.map(({ elevation_m }) => elevation_m);
  return Float64Array.from(neighbours(x_m), ([from, to]) =>
    linearBetween(positions, elevations, (from + to) / 2),
  );
}

/** The usual spacing of a line's electrodes. */
export function spacingOf({ electrodes }: Pick<ScreenedLine, "electrodes">): number {
  return usualSpacing(electrodes.map(({ x_m }) => x_m));
}
