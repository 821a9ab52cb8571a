import { customOption } from "../../step/options/kinds.js";
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
    '"majority" takes off what is common to the line: zero and gain of each channel, the height of ' +
      "the coils and the season, fitted so that the stations that changed do not count (of slices, " +
      "their median difference). A shift of the whole line is then not a change. " +
      '"none" takes the difference as it is.',
  ),
  offsetsAt_m: customOption<readonly number[]>({
    default: Object.freeze([]),
    rule: "a list of chainages",
    holds: (list) => Array.isArray(list) && list.every(Number.isFinite),
    unit: "m",
    shown: (list) => [...list],
    meaning:
      "Where another operator took over in either campaign, or the instrument was set anew: from " +
      "there on the coils may be at another height. Such steps are also looked for; only channels " +
      "tell them.",
  }),
  smoothing_m: lengthOption(
    20,
    "Length of the moving mean along the line that is drawn; 0 for none. Where slices are compared " +
      "it is tested too, with means over twice that length; channels are tested over all lengths.",
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
  q: errorRateOption(
    "Probability of any false stretch where nothing changed; where slices are compared, the expected " +
      "share of false discoveries over all stations and slices.",
  ),
  ...stretchOptions,
};

/** Options of `compareCampaigns`, resolved. */
export interface CompareOptions extends OptionsOf<typeof compareOptions> {}

export const compareDefaults: CompareOptions = defaultsOf(compareOptions);
