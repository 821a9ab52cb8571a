import type { Centreline } from "./centreline.js";
import type { CrestProfile, CrossSectionProfile } from "./cross-section.js";
import type { ReadingNoise } from "./instrument.js";
import type { SoilTemperature } from "./monitoring.js";
import type { FieldNote } from "./notes.js";
import type { Cause, Pass } from "./pass.js";

export interface Campaign {
  /** Such as "2031-04". */
  readonly label: string;
  readonly passes: readonly Pass[];
  readonly baseChecks: readonly BaseCheck[];
  /** The field notes that hold for this campaign. */
  readonly notes: readonly FieldNote[];
  /**
   * Those of its own files, and of files without a campaign the rows within a month of its readings
   * (all where none is so near).
   */
  readonly soilTemperature: readonly SoilTemperature[];
  readonly causes: readonly Cause[];
  readonly centreline: Centreline;
  /** The instrument's noise, one entry for each channel of each pass, once a step has found it. */
  readonly noise?: readonly ReadingNoise[];
  /** Where the survey has the crest's elevation. */
  readonly crest?: CrestProfile;
  /** Where the survey has anything of the bank's cross-section. */
  readonly crossSections?: CrossSectionProfile;
}

/** One reading at the fixed spot. */
export interface BaseCheck {
  readonly file: string;
  readonly row: number;
  readonly time_s: number;
  readonly spot: string;
  /** Channel field → value in the channel's unit; missing values are left out. */
  readonly values: Readonly<Record<string, number>>;
}
