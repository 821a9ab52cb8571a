export interface OpenSurveyOptions {
  /**
   * Positions further from the centreline than this are faults, and so are chainages further beyond
   * its ends. m, above 0, default 500.
   */
  readonly farFromCentreline_m?: number;
}

export const OPEN_SURVEY_DEFAULTS = Object.freeze({ farFromCentreline_m: 500 });
