import { customOption } from "../../../step/options/kinds.js";
import { numberOption } from "../../../step/options/number.js";
import type { OptionsOf } from "../../../step/options/option.js";
import { defaultsOf } from "../../../step/options/resolve.js";
import type { Borehole } from "../../../survey/survey.js";

export const soundingOptions = {
  boreholes: customOption<readonly Borehole[]>({
    default: Object.freeze([]),
    rule: "a list of boreholes",
    holds: Array.isArray,
    role: "data",
    shown: (boreholes) => boreholes.map(({ borehole }) => borehole),
    meaning: "Boreholes of which the nearest may stand beside the sounding.",
  }),
  boreholeWithin_m: numberOption({
    default: 10,
    from: 0,
    unit: "m",
    meaning: "How far along the bank it may be from the station.",
  }),
};

/** Options of `depthSounding`, resolved. */
export interface SoundingOptions extends OptionsOf<typeof soundingOptions> {}

export const soundingDefaults: SoundingOptions = defaultsOf(soundingOptions);
