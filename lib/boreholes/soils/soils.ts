import type { Centreline } from "../../survey/survey.js";
import type { Told } from "./gaussian-process.js";
import type { SoilKernel } from "./soil-kernel.js";

/** What the boreholes and the slices say together of the soils, the value of `predictSoils`. */
export interface Soils {
  readonly campaign: string;
  /** Why nothing is predicted; null where something is. */
  readonly refused: string | null;
  /** Boreholes beside an estimate that were used. */
  readonly boreholes: readonly string[];
  /** True where resistivities are taken at 25 °C, false where at field temperature. */
  readonly at25: boolean;
  /** n chainages at which soils are predicted. */
  readonly chainage_m: Float64Array;
  /** The k slices that are predicted: those that are reliable. */
  readonly slices: readonly { readonly top_m: number; readonly base_m: number }[];
  readonly properties: readonly SoilProperty[];
  /** Kinds of ground by their principal fraction; empty where no strata were logged. */
  readonly classes: readonly SoilClass[];
  /** How the classes are logged against how the other boreholes tell them; null without classes. */
  readonly classesLeftOut: ClassesLeftOut | null;
  /** What makes two places alike in soil, as the boreholes have it. */
  readonly kernel: SoilKernel;
  readonly centreline: Centreline;
}

/** A laboratory value along the bank. */
export interface SoilProperty {
  readonly name: "fines" | "water content";
  readonly unit: "%";
  readonly samples: readonly SoilSample[];
  readonly leftOut: PropertyLeftOut;
  /** Change by one decade of resistivity on the property's own scale, mean and sd. */
  readonly slope: Told;
  /** The relation where nothing is known but the resistivity: in a block without a borehole. */
  readonly relation: PropertyRelation;
  /** For each slice, n values of what a sample there would give; NaN without an estimate. */
  readonly p10: readonly Float64Array[];
  readonly p50: readonly Float64Array[];
  readonly p90: readonly Float64Array[];
}

export interface PropertyRelation {
  readonly resistivity_ohm_m: Float64Array;
  readonly p10: Float64Array;
  readonly p50: Float64Array;
  readonly p90: Float64Array;
}

/** One slice at one borehole. */
export interface SoilSample {
  readonly borehole: string;
  readonly chainage_m: number;
  readonly top_m: number;
  readonly base_m: number;
  readonly resistivity_ohm_m: number;
  /** Of log10 resistivity. */
  readonly sd: number;
  readonly value: number;
  /** As told by the other boreholes alone. */
  readonly others: { readonly p10: number; readonly p50: number; readonly p90: number };
}

/** Errors of a property told by the other boreholes alone. */
export interface PropertyLeftOut {
  /** Root mean square error, in the property's unit. */
  readonly rms: number;
  /** The same where each borehole is told by the mean of the others. */
  readonly meanOnlyRms: number;
  /** Samples within their 80 % interval, of how many. */
  readonly inside80: number;
  readonly count: number;
}

/** One kind of ground: clay, silt, sand, gravel, organic. */
export interface SoilClass {
  /** The principal fraction's ISO 14688-1 letters. */
  readonly soil: string;
  /** For each slice, n probabilities; NaN without an estimate. */
  readonly probability: readonly Float64Array[];
}

export interface ClassesLeftOut {
  /** Slices at boreholes whose most probable class by the others is the one logged, of how many. */
  readonly right: number;
  readonly count: number;
  /** The same where the class that the others logged most is taken. */
  readonly commonestRight: number;
}
