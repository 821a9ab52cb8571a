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
  /** Who made the survey, and which edition of its data this is; "" and none where not stated. */
  readonly edition?: SurveyEdition;
  readonly embankment: string;
  readonly waterway: string;
  readonly waterside: "left" | "right" | null;
  readonly designWaterLevel_m: number | null;
  readonly length_m: number;
  readonly centreline: Centreline;
  /** The cross-section at a chainage: constants, or interpolated in the table. */
  readonly crossSectionAt: (chainage_m: number) => CrossSection;
  /**
   * Sorted by first reading. Where several lines were walked, the readings of the main line only:
   * `walkedLine`; those of the others stand in `otherLines`.
   */
  readonly campaigns: readonly Campaign[];
  /** The line that `campaigns` holds; left out where one line was walked. */
  readonly walkedLine?: WalkedLine;
  /** Every other line with its readings; left out where one line was walked. */
  readonly otherLines?: readonly OtherLine[];
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

/** A line along the bank that was walked, in any campaign. */
export interface WalkedLine {
  /** Its name in the readings; where another line has the same, with its distance. */
  readonly line: string;
  /** Median distance from the centreline, m, positive to the left. */
  readonly offset_m: number;
}

/** A line beside the main one: as the survey would be if only it had been walked. */
export interface OtherLine extends WalkedLine {
  readonly survey: Survey;
}

/** The data package's own word on itself (Data Package v1). */
export interface SurveyEdition {
  /** The data's version; "" where not stated. */
  readonly version: string;
  /** When the package was made, as it states it; "" where not stated. */
  readonly created: string;
  readonly contributors: readonly Contributor[];
}

export interface Contributor {
  readonly title: string;
  /** Such as author, publisher, wrangler; "" where not stated. */
  readonly role: string;
  /** "" where not stated. */
  readonly organization: string;
}

export interface InputFile {
  readonly path: string;
  readonly sha256: string;
  readonly bytes: number;
  /** Data rows of a CSV; null for other files. */
  readonly rows: number | null;
}
