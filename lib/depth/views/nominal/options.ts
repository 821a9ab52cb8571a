import { numberOption } from "../../../step/options/number.js";
import type { OptionsOf } from "../../../step/options/option.js";
import { defaultsOf } from "../../../step/options/resolve.js";
import { depthOptions } from "../../options.js";

export const nominalOptions = {
  spacing_m: depthOptions.spacing_m,
  proportionalNoise: depthOptions.proportionalNoise,
  floor_ppm: numberOption({
    default: 5,
    above: 0,
    unit: "ppm",
    meaning: "Lowest noise of a single reading, as quadrature.",
  }),
};

/** Options of `nominalView`, resolved. */
export interface NominalOptions extends OptionsOf<typeof nominalOptions> {}

export const nominalDefaults: NominalOptions = defaultsOf(nominalOptions);
