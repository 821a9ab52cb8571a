import { callbackOption } from "../step/options/kinds.js";
import { numberOption } from "../step/options/number.js";
import type { OptionsOf } from "../step/options/option.js";
import { defaultsOf } from "../step/options/resolve.js";
import type { ReadProgress } from "../survey/read/load-survey.js";
import { placeOptions } from "./options.js";

export const openSurveyOptions = {
  farFromCentreline_m: numberOption({
    default: 500,
    above: 0,
    unit: "m",
    meaning:
      "Positions further from the centreline than this are faults, and so are chainages further " +
      "beyond its ends.",
  }),
  progress: callbackOption<ReadProgress>(
    "Called while the files are read: the file's path and the share of it read, 0 to 1.",
  ),
  ...placeOptions,
};

/** Options of `openSurvey`, resolved: those of reading, and of `placeReadings`. */
export interface OpenSurveyOptions extends OptionsOf<typeof openSurveyOptions> {}

export const OPEN_SURVEY_DEFAULTS: OpenSurveyOptions = defaultsOf(openSurveyOptions);
