import type { PartName } from "../../boreholes/siting/plan.js";
import type { Findings } from "../../chain/findings.js";
import type { EvidenceName } from "../../seepage/seepage.js";

/** The form of the records that this version writes and reads. */
export const RECORD_FORM = 1;

/** Longitude and latitude on WGS 84, degrees to 1e-7. */
export type LonLatPair = readonly [longitude: number, latitude: number];

/**
 * What one reach hands to the inventory beside its findings: what is compared over all reaches, as
 * plain JSON. Null is a missing value.
 */
export interface ReachRecord {
  readonly form: number;
  readonly reach: string;
  readonly embankment: string;
  readonly length_m: number;
  readonly campaigns: readonly string[];
  /** The campaign that blocks, zones and holes rest on. */
  readonly campaign: string;
  readonly line: readonly LonLatPair[];
  readonly findings: Findings;
  /** Beside `findings.blocks`, one each, in that order; those of the main line first. */
  readonly blocks: readonly BlockRecord[];
  /** Where the lists of `findings` of the same names lie, one each. */
  readonly paths: {
    readonly changes: readonly (readonly LonLatPair[])[];
    readonly seepage: readonly (readonly LonLatPair[])[];
    readonly boreholes: readonly LonLatPair[];
  };
  /** Evidence of seepage along the main line. */
  readonly cells: EvidenceCells;
  readonly incidents: readonly IncidentRecord[];
  /** Existing boreholes: their chainages, m. */
  readonly drilled_m: readonly number[];
  readonly offered: readonly OfferedRecord[];
  readonly account: readonly AccountRow[];
  readonly unknown: readonly UnknownStretch[];
}

export interface BlockRecord {
  readonly path: readonly LonLatPair[];
  /** By reliable slice; none for lines beside the main one. */
  readonly levels: readonly BlockLevel[];
}

/** The level of a block in one slice. */
export interface BlockLevel {
  readonly top_m: number;
  readonly base_m: number;
  /** log10(ohm-m), at 25 °C where `at25`, else at field temperature. */
  readonly log10: number;
  /** Its standard deviation over the posterior's draws. */
  readonly sd: number;
  readonly at25: boolean;
}

export interface EvidenceCells {
  readonly cell_m: number;
  readonly chainage_m: readonly number[];
  /** n values, 0 (absent) to 1 (present) in steps of 0.001; null where nothing is known. */
  readonly pieces: Readonly<Partial<Record<EvidenceName, readonly (number | null)[]>>>;
}

export interface IncidentRecord {
  readonly date: string;
  readonly chainage_m: number;
  readonly kind: string;
  /** True for water or sand coming out. */
  readonly isWet: boolean;
}

/** A hole that the reach would ask for, by falling gain. */
export interface OfferedRecord {
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly depth_m: number;
  readonly place: string;
  readonly purpose: string;
  readonly reason: string;
  readonly adds_m: Readonly<Partial<Record<PartName, number>>>;
  readonly at: LonLatPair;
}

/** Readings of a campaign that fared alike. */
export interface AccountRow {
  readonly campaign: string;
  readonly fate: "kept" | "corrected" | "set aside";
  /** "" for readings in use. */
  readonly cause: string;
  readonly readings: number;
}

export interface UnknownStretch {
  readonly campaign: string;
  readonly from_m: number;
  readonly to_m: number;
  /** What is not known there, in a few words. */
  readonly what: string;
}
