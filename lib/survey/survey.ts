/** What was measured: the survey folder as values. Chainage, units and names as in the contract. */

export type Orientation = "HCP" | "VCP" | "PRP";

export interface Channel {
  readonly field: string;
  readonly kind: "quadrature" | "inphase" | "conductivity";
  readonly unit: "ppm" | "mS/m";
  readonly frequency_Hz: number;
  readonly separation_m: number;
  readonly orientation: Orientation;
}

export interface Instrument {
  /** Height of the coils above ground where a reading gives none. */
  readonly height_m: number;
  readonly channels: readonly Channel[];
}

/** Why readings are set aside. `kind` decides how the report groups them. */
export interface Cause {
  readonly kind:
    | "no position"
    | "no value"
    | "repeated"
    | "documented"
    | "detected"
    | "both"
    | "noise";
  /** A sentence for the account. */
  readonly text: string;
  /** The noted object, where there is one. */
  readonly object?: string;
}

/** The rows of one `readings` resource, in file order: one walk with one set-up of the coils. */
export interface Pass {
  readonly resource: string;
  readonly file: string;
  readonly instrument: Instrument;
  /** Number of readings, n. */
  readonly count: number;
  /** n line numbers in the file (the header is line 1). */
  readonly row: Int32Array;
  /** n times, s since 1970-01-01T00:00Z; NaN where missing. */
  readonly time_s: Float64Array;
  /** n names of survey lines; "" where the file has none. */
  readonly line: readonly string[];
  /** n positions in the survey's projected coordinates; NaN where GPS gave none. */
  readonly easting_m: Float64Array;
  readonly northing_m: Float64Array;
  /** n chainages along the centreline; NaN without a position. */
  readonly chainage_m: Float64Array;
  /** n distances from the centreline, positive to the left seen toward increasing chainage. */
  readonly offset_m: Float64Array;
  /** n heights of the coils above ground. */
  readonly height_m: Float64Array;
  /** For each channel of the instrument, n values in the channel's unit; NaN where missing. */
  readonly values: readonly Float64Array[];
  /** For each channel, n entries: 0 in use, k set aside by `campaign.causes[k - 1]`. */
  readonly setAside: readonly Uint8Array[];
  /** n entries: 1 where a correction changed any of the row's values. */
  readonly corrected: Uint8Array;
  /** n standard deviations of the chainage, m; NaN without a position. */
  readonly positionSd_m?: Float64Array;
  /** n entries: 1 where the file has no position and it was bridged by time. */
  readonly positionBridged?: Uint8Array;
  /**
   * For each channel, n standard deviations of the drift that the correction may have left in the
   * value (or put into it), channel's unit; alike for neighbours in time. 0 where nothing tells it.
   */
  readonly driftSd?: readonly Float64Array[];
}

/** Noise of one reading of a channel: standard deviation sqrt(floor² + (share_pct / 100 × value)²). */
export interface ReadingNoise {
  readonly resource: string;
  /** The channel's field. */
  readonly channel: string;
  /** In the channel's unit. */
  readonly floor: number;
  readonly share_pct: number;
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

export interface FieldNote {
  readonly row: number;
  readonly kind: "mark" | "metal" | "structure" | "remark";
  readonly object: string;
  /** Chainages; equal for a point. From coordinates where the note has no chainage. */
  readonly from_m: number;
  readonly to_m: number;
  /** The chainage of the note's coordinates, where it gives both; a check of the chainages. */
  readonly located_m?: number;
  readonly offset_m: number | null;
  readonly time_s: number | null;
  /** Null where the note holds for every campaign. */
  readonly campaign: string | null;
  readonly text: string;
}

export interface SoilTemperature {
  readonly time_s: number;
  readonly depth_m: number;
  readonly temperature_degC: number;
}

export interface WaterLevel {
  readonly time_s: number;
  /** "river" or a piezometer's name. */
  readonly point: string;
  readonly level_m: number;
  readonly chainage_m: number | null;
}

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
  /** Where the survey tells the crest's elevation. */
  readonly crest?: CrestProfile;
}

/** Elevation of the crest: linear between its points, level beyond the first and the last. */
export interface CrestProfile {
  /** One chainage or more, rising. */
  readonly chainage_m: readonly number[];
  /** m above the survey's datum. */
  readonly elevation_m: readonly number[];
}

export interface Centreline {
  /** Vertices in projected coordinates, m, and their chainages, m on the ground (not the grid). */
  readonly easting_m: Float64Array;
  readonly northing_m: Float64Array;
  readonly chainage_m: Float64Array;
  /** EPSG code of the projected coordinates, such as 32631. */
  readonly epsg: number;
  /** PROJ string of the projected coordinates; without it that of `epsg`, a UTM zone. */
  readonly projection?: string;
}

/** The cross-section at one chainage; null where the survey does not say. */
export interface CrossSection {
  readonly crestWidth_m: number | null;
  readonly crestElevation_m: number | null;
  readonly foundationElevation_m: number | null;
  readonly watersideSlope: number | null;
  readonly landsideSlope: number | null;
}

export interface ResistivityLine {
  readonly line: string;
  readonly runs: "along" | "across";
  /** Chainage and offset of x = 0. */
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly electrodes: readonly {
    readonly electrode: number;
    readonly x_m: number;
    readonly elevation_m: number;
  }[];
  readonly readings: readonly ResistivityReading[];
}

export interface ResistivityReading {
  readonly row: number;
  /** Electrode numbers; 0 is remote. */
  readonly a: number;
  readonly b: number;
  readonly m: number;
  readonly n: number;
  readonly current_mA: number;
  readonly voltage_mV: number;
  readonly deviation_pct: number;
  readonly repeat: number | null;
  readonly campaign: string | null;
}

export interface Stratum {
  readonly top_m: number;
  readonly base_m: number;
  /** ISO 14688-1 letters, such as "siCl". */
  readonly soil: string;
  readonly description: string;
}

export interface LaboratoryValue {
  readonly depth_m: number;
  readonly fines_pct: number | null;
  readonly water_content_pct: number | null;
  readonly hydraulic_conductivity_m_per_s: number | null;
  readonly resistivity_ohm_m: number | null;
}

export interface Borehole {
  readonly borehole: string;
  readonly chainage_m: number;
  readonly offset_m: number;
  readonly elevation_m: number;
  readonly depth_m: number;
  readonly strata: readonly Stratum[];
  readonly laboratory: readonly LaboratoryValue[];
}

export interface Incident {
  /** ISO 8601 date. */
  readonly date: string;
  readonly chainage_m: number;
  readonly kind: string;
  readonly text: string;
}

export interface InputFile {
  readonly path: string;
  readonly sha256: string;
  readonly bytes: number;
  /** Data rows of a CSV; null for other files. */
  readonly rows: number | null;
}

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
