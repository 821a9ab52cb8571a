import { numberOption } from "../../step/options/number.js";
import type { OptionsOf } from "../../step/options/option.js";
import { defaultsOf } from "../../step/options/resolve.js";

export const soilsOptions = {
  near_m: numberOption({
    default: 6,
    above: 0,
    unit: "m",
    meaning: "Stations nearer than this along the bank are beside a borehole.",
  }),
  offLine_m: numberOption({
    default: 4,
    above: 0,
    unit: "m",
    meaning: "A borehole further than this from the walked line met other ground than the slices.",
  }),
  step_m: numberOption({
    default: 10,
    above: 0,
    unit: "m",
    meaning: "Distance along the bank between predictions.",
  }),
};

/** Options of `predictSoils`, resolved. */
export interface SoilsOptions extends OptionsOf<typeof soilsOptions> {}

export const soilsDefaults: SoilsOptions = defaultsOf(soilsOptions);
