import { numberOption } from "../../step/options/number.js";
import type { OptionsOf } from "../../step/options/option.js";
import { defaultsOf } from "../../step/options/resolve.js";

export const zeroLevelOptions = {
  floor: numberOption({
    default: 10,
    above: 0,
    meaning:
      "Least noise of a reading, channel's unit. It also stands for the error of the layered " +
      "response: no reading counts as better than this and the share together.",
  }),
  share_pct: numberOption({
    default: 1,
    from: 0,
    unit: "%",
    meaning: "Noise as a share of the value.",
  }),
};

/** Options of `zeroLevel`, resolved. */
export interface ZeroLevelOptions extends OptionsOf<typeof zeroLevelOptions> {}

export const zeroLevelDefaults: ZeroLevelOptions = defaultsOf(zeroLevelOptions);
