import { choiceOption } from "../../step/options/kinds.js";
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
  classes: choiceOption(["ground", "overlap", "name"], {
    default: "ground",
    meaning:
      "When a class of the one is a class of the other. By ground: their resistivities are nearest, " +
      "where both cuts give them; else, and by overlap: they share the most length, one to one. By " +
      "name: they are called the same.",
  }),
  sameGround_decades: numberOption({
    default: 0.3,
    above: 0,
    unit: "decades",
    meaning:
      "By ground, classes whose resistivities differ by more than this in the mean over depth are not " +
      "the same.",
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
