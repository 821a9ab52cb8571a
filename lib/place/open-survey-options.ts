import { PLACE_DEFAULTS, type PlaceOptions } from "./options.js";

export interface OpenSurveyOptions extends PlaceOptions {
  /**
   * Positions further from the centreline than this are faults, and so are chainages further beyond
   * its ends. m, above 0, default 500.
   */
  readonly farFromCentreline_m?: number;
  /** Told while the files are read: the file's path and the share of it read, 0 to 1. */
  readonly progress?: (file: string, share: number) => void;
}

export const OPEN_SURVEY_DEFAULTS = Object.freeze({ farFromCentreline_m: 500, ...PLACE_DEFAULTS });
