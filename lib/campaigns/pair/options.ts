import type { OptionsOf } from "../../step/options/option.js";
import { defaultsOf } from "../../step/options/resolve.js";
import {
  alignOption,
  errorRateOption,
  lengthOption,
  levelOption,
  stretchOptions,
} from "../options.js";

export const compareOptions = {
  level: levelOption(
    '"majority" takes off each slice\'s median difference over the stations that did not ' +
      "change: a shift of the whole line is then not a change, be it the season or the " +
      "instrument. " +
      '"none" takes the difference as it is.',
  ),
  smoothing_m: lengthOption(
    20,
    "Length of the moving mean along the line; 0 for none. Means over twice that length are " +
      "tested beside it, so that a weak change of a long stretch is found as well.",
  ),
  alignWithin_m: alignOption(
    "Greatest shift that co-registers the later campaign to the chainage of the earlier one; 0 " +
      "for none. Where the ground has no texture to estimate a shift from, none is made.",
  ),
  mismatch_m: lengthOption(
    0.5,
    "Standard deviation of the mismatch of positions that alignment leaves or cannot follow: " +
      "where the ground changes along the line, a mismatch looks like a change in time. The " +
      "alignment's own uncertainty comes on top.",
  ),
  q: errorRateOption("Expected share of false discoveries over all stations and slices."),
  ...stretchOptions,
};

/** Options of `compareCampaigns`, resolved. */
export interface CompareOptions extends OptionsOf<typeof compareOptions> {}

export const compareDefaults: CompareOptions = defaultsOf(compareOptions);
