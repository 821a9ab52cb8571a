import { numberOption } from "../../step/options/number.js";
import type { OptionsOf } from "../../step/options/option.js";
import { defaultsOf } from "../../step/options/resolve.js";
import {
  alignOption,
  errorRateOption,
  lengthOption,
  levelOption,
  stretchOptions,
} from "../options.js";

export const trendOptions = {
  level: levelOption(
    '"majority" takes off each campaign\'s median ratio to the first campaign over the stations ' +
      "without a trend: a season or an instrument that shifts the whole line is then no trend. " +
      '"none" leaves it.',
  ),
  smoothing_m: lengthOption(20, "Length of the moving mean along the line; 0 for none."),
  alignWithin_m: alignOption(
    "Greatest shift that co-registers each campaign to the chainage of the first.",
  ),
  q: errorRateOption("Greatest probability that any reported stretch is there by chance."),
  ...stretchOptions,
  draws: numberOption({
    default: 999,
    from: 99,
    upTo: 99999,
    meaning: "Orders of the campaigns that are drawn for seven campaigns or more.",
  }),
  seed: numberOption({ default: 1, from: 0, meaning: "Seed of the drawn orders." }),
};

/** Options of `trendOverCampaigns`, resolved. */
export interface TrendOptions extends OptionsOf<typeof trendOptions> {}

export const trendDefaults: TrendOptions = defaultsOf(trendOptions);
