import { numberOption } from "../../step/options/number.js";
import type { OptionsOf } from "../../step/options/option.js";
import { defaultsOf } from "../../step/options/resolve.js";

export const meetingOptions = {
  beside_m: numberOption({
    default: 2,
    from: 0,
    unit: "m",
    meaning: "The line counts as on the walked line where it runs no farther from the centreline.",
  }),
};

/** Options of `compareWithWalk`, resolved. */
export interface MeetingOptions extends OptionsOf<typeof meetingOptions> {}

export const meetingDefaults: MeetingOptions = defaultsOf(meetingOptions);
