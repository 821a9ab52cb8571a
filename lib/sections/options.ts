import { numberOption } from "../step/options/number.js";
import type { OptionsOf } from "../step/options/option.js";
import { defaultsOf } from "../step/options/resolve.js";

export const sectionResponseOptions = {
  cellsPerSpacing: numberOption({
    default: 3,
    from: 3,
    upTo: 12,
    meaning:
      "Cells per electrode spacing. Cells next to an electrode have half that size, and grow " +
      "away from it the slower the higher this is. Where the first row of the earth is thin, " +
      "cells at the surface are no higher than half of it, down to a fiftieth of the spacing. " +
      "Measured against layers, contacts and topography, 3 is off by 0.1 % as a rule and 0.7 % at " +
      "worst, 4 by half of that or less; 64 electrodes take 3.5 s at 3, 7.5 s at 4, 20 s at 6.",
  }),
  wavenumberStep: numberOption({
    default: 0.8,
    from: 0.4,
    upTo: 1,
    meaning:
      "Step between wavenumbers in ln k. The transform's own error is about exp(−π²/step): 4e-6 " +
      "at 0.8, 5e-5 at 1. Time goes with its inverse.",
  }),
};

/** Options of `sectionResponse`, resolved: fineness of the grid and of the transform. */
export interface SectionResponseOptions extends OptionsOf<typeof sectionResponseOptions> {}

export const SECTION_RESPONSE_DEFAULTS: SectionResponseOptions = defaultsOf(sectionResponseOptions);
