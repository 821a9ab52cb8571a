import type { Spread } from "../earth/spread.js";
import { itemAt } from "../numerics/arrays.js";

/** A 2-D earth of rectangular cells; x along the line, depth below the surface. */
export interface SectionEarth {
  /** m + 1 ascending cell edges along the line; the first and the last cell go on for ever. */
  readonly x_m: readonly number[];
  /** n + 1 ascending edges, 0 or more; the first row begins at the surface, the last is endless. */
  readonly depth_m: readonly number[];
  /** n rows by depth of m values, ohm-m, each above 0. */
  readonly resistivity_ohm_m: readonly (readonly number[])[];
  /** Still water over the ground; left out where there is none. */
  readonly water?: SectionWater;
}

/** Where still water covers the ground, such as a river beside an embankment. */
export interface WaterCover {
  /** Of its surface, in the datum of the electrodes' elevations, m. */
  readonly level_m: number;
  /** Ground lower than the level is under water from here on, m along the line. */
  readonly from_m: number;
  /** Points of the ground beside the electrodes, such as the foot of a slope beyond the last. */
  readonly bed: readonly SectionElectrode[];
}

export interface SectionWater extends WaterCover {
  /** At the water's temperature, ohm-m, above 0. */
  readonly resistivity_ohm_m: number;
}

export interface SectionElectrode {
  /** Horizontal position along the line, in any order; no two the same. */
  readonly x_m: number;
  readonly elevation_m: number;
}

/** Electrode numbers from 1; 0 is remote. */
export interface SectionSpread {
  /** Where current goes in. */
  readonly a: number;
  /** Where current comes out. */
  readonly b: number;
  /** Where potential is taken. */
  readonly m: number;
  /** What it is taken against. */
  readonly n: number;
}

/** The same spread as positions along x. */
export function positionsOf(
  spread: SectionSpread,
  electrodes: readonly SectionElectrode[],
): Spread {
  const position = (number: number) =>
    number === 0 ? Infinity : itemAt(electrodes, number - 1).x_m;
  return {
    a_m: position(spread.a),
    b_m: position(spread.b),
    m_m: position(spread.m),
    n_m: position(spread.n),
  };
}
