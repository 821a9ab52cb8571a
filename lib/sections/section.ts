import type { ResistivityReading } from "../survey/resistivity-line.js";
import type { ErrorModel } from "./readings/error-model.js";

/** Resistivity under one line of electrodes, with how well it is known. */
export interface Section {
  readonly line: string;
  readonly campaign: string | null;
  readonly runs: "along" | "across";
  /** Chainage and offset of x = 0. */
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly cells: SectionValues;
  /** Elevation of the surface at the middle of each column, m. */
  readonly surface_m: Float64Array;
  /** Depth that is reliable without a gap, median of the columns under the electrodes, m. */
  readonly reliableTo_m: number;
  readonly electrodes: readonly {
    readonly electrode: number;
    readonly x_m: number;
    readonly elevation_m: number;
  }[];
  readonly readings: readonly SectionReading[];
  readonly errors: ErrorModel;
  /** Standard deviation of the noise over that of the error model. */
  readonly noise: number;
  /**
   * Normalised misfit: root of the sum of squared residuals over their variances (noise factor
   * included), divided by the readings less the numbers that they decide.
   */
  readonly rms: number;
  /** Numbers that the readings decide: the trace of the resolution matrix. */
  readonly resolved: number;
  /** The same before each step, and after the last; the noise factor is the last one's. */
  readonly history: readonly number[];
  /** Steps of Gauss and Newton. */
  readonly iterations: number;
  /** The same misfit of every tenth reading, predicted from the others. */
  readonly leftOut: number;
  /** Standard deviation of ln ρ across a square face between columns and between rows, median. */
  readonly differences: { readonly along: number; readonly down: number };
  /** Least and greatest factor that the embankment's shape makes; null where it was not used. */
  readonly shapeFactors: readonly [number, number] | null;
  /** The water that is in the forward model; null where there is none. */
  readonly water: SectionWaterShare | null;
}

/** Water over the ground of a section, and what it makes of the readings. */
export interface SectionWaterShare {
  readonly level_m: number;
  readonly resistivity_ohm_m: number;
  /** Electrodes that lie under it. */
  readonly electrodes: number;
  /** Least and greatest of readings with it over those with air in its place, at this section. */
  readonly factors: readonly [number, number];
}

/** Cells in columns along the line, column by column from the surface down. */
export interface SectionValues {
  /** Edges of the columns; the outermost cells go on for ever. */
  readonly x_m: readonly number[];
  /** Edges of the rows, below the surface; the last row has no base. */
  readonly depth_m: readonly number[];
  /** Posterior mean, log10 of ohm-m at field temperature, and standard deviation. */
  readonly log10Resistivity: Float64Array;
  readonly log10Sd: Float64Array;
  /** Quantiles, ohm-m. */
  readonly p10_ohm_m: Float64Array;
  readonly p50_ohm_m: Float64Array;
  readonly p90_ohm_m: Float64Array;
  /** Share of a reference resistivity that shows through: two-reference depth of investigation. */
  readonly reference: Float64Array;
  /** Summed squared answers of ln readings to ln ρ over their variances. */
  readonly sensitivity: Float64Array;
  /** 1 where a cell is reliable. */
  readonly reliable: Uint8Array;
  /** Posterior draws of log10 of ohm-m, cells as above. */
  readonly draws: readonly Float64Array[];
}

/** What became of one reading. */
export interface SectionReading {
  readonly reading: ResistivityReading;
  readonly array: string;
  /** Where it looks: middle along the line and median depth over even ground, m. */
  readonly x_m: number;
  readonly medianDepth_m: number;
  readonly apparent_ohm_m: number;
  /** Factor of the embankment's shape by which it was divided; 1 where none was. */
  readonly shapeFactor: number;
  /** Share, 1 standard deviation, noise factor included; NaN where set aside. */
  readonly sd: number;
  /** (ln measured − ln calculated) / sd; NaN where set aside. */
  readonly residual: number;
  /** "" where in use. */
  readonly cause: string;
}
