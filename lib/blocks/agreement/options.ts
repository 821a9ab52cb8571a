import { numberOption, numberOr } from "../../step/options/number.js";
import type { OptionsOf } from "../../step/options/option.js";
import { defaultsOf } from "../../step/options/resolve.js";

export const compareSegmentationsOptions = {
  within_m: numberOption({
    default: 12,
    from: 0,
    unit: "m",
    meaning: "Two boundaries agree where they are at most this far apart.",
  }),
  independent_m: numberOr(["block"], {
    default: "block",
    above: 0,
    unit: "m",
    meaning:
      "Length of line that is worth one independent judgement: the interval of kappa rests on " +
      'length / this. "block" takes the mean block length of the segmentation with more blocks.',
  }),
};

/** Options of `compareSegmentations`, resolved. */
export interface CompareSegmentationsOptions
  extends OptionsOf<typeof compareSegmentationsOptions> {}

export const compareSegmentationsDefaults: CompareSegmentationsOptions = defaultsOf(
  compareSegmentationsOptions,
);
