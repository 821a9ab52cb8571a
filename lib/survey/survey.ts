import type { Borehole } from "./borehole.js";
import type { Campaign } from "./campaign.js";
import type { Centreline } from "./centreline.js";
import type { CrossSection } from "./cross-section.js";
import type { SoilTemperature, WaterLevel } from "./monitoring.js";
import type { FieldNote, Incident } from "./notes.js";
import type { ResistivityLine } from "./resistivity-line.js";

export type * from "./borehole.js";
export type * from "./campaign.js";
export type * from "./centreline.js";
export type * from "./cross-section.js";
export type * from "./instrument.js";
export type * from "./monitoring.js";
export type * from "./notes.js";
export type * from "./pass.js";
export type * from "./resistivity-line.js";

/** What was measured: the survey folder as values. Chainage, units and names as in the contract. */
export interface Survey {
  /** The data package's name. */
  readonly name: string;
  readonly title: string;
  readonly embankment: string;
  readonly waterway: string;
  readonly waterside: "left" | "right" | null;
  readonly designWaterLevel_m: number | null;
  readonly length_m: number;
  readonly centreline: Centreline;
  /** The cross-section at a chainage: constants, or interpolated in the table. */
  readonly crossSectionAt: (chainage_m: number) => CrossSection;
  /** Sorted by first reading. */
  readonly campaigns: readonly Campaign[];
  /**
   * The same campaigns as they were read, before their readings were placed along the bank: what
   * `placeReadings` starts from. Left out by surveys that never were a folder.
   */
  readonly asRead?: readonly Campaign[];
  readonly fieldNotes: readonly FieldNote[];
  readonly soilTemperature: readonly SoilTemperature[];
  readonly waterLevels: readonly WaterLevel[];
  readonly resistivityLines: readonly ResistivityLine[];
  readonly boreholes: readonly Borehole[];
  readonly incidents: readonly Incident[];
  readonly inputs: readonly InputFile[];
}

export interface InputFile {
  readonly path: string;
  readonly sha256: string;
  readonly bytes: number;
  /** Data rows of a CSV; null for other files. */
  readonly rows: number | null;
}
