/** The cross-section at one chainage; null where the survey gives nothing. */
export interface CrossSection {
  readonly crestWidth_m: number | null;
  readonly crestElevation_m: number | null;
  readonly foundationElevation_m: number | null;
  readonly watersideSlope: number | null;
  readonly landsideSlope: number | null;
}

/** Elevation of the crest: linear between its points, level beyond the first and the last. */
export interface CrestProfile {
  /** One chainage or more, rising. */
  readonly chainage_m: readonly number[];
  /** m above the survey's datum. */
  readonly elevation_m: readonly number[];
}

/** Cross-sections along the bank: linear between chainages, level beyond the first and the last. */
export interface CrossSectionProfile {
  /** One chainage or more, rising. */
  readonly chainage_m: readonly number[];
  readonly section: readonly CrossSection[];
  readonly waterside: "left" | "right" | null;
}
