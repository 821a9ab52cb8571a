import { choiceOption, customOption } from "../step/options/kinds.js";
import { numberOption, numberOr } from "../step/options/number.js";
import type { OptionsOf } from "../step/options/option.js";
import { defaultsOf } from "../step/options/resolve.js";
import type { Borehole } from "../survey/survey.js";
import { changeOption } from "./cut/options.js";

export const segmentBlocksOptions = {
  penalty: numberOr(["mbic"], {
    default: "mbic",
    from: 0,
    meaning:
      "Price of a boundary in units of squared noise: one number for every boundary, or " +
      '"mbic", which follows from the number of stations and the lengths of the blocks. A higher ' +
      "price gives fewer blocks; 0 cuts wherever `minLength_m` allows.",
  }),
  minLength_m: numberOption({
    default: 40,
    above: 0,
    unit: "m",
    title: "Shortest block",
    meaning: "Length of the shortest block; gaps within a block count.",
  }),
  change: changeOption,
  noise: choiceOption(["correlated", "independent"], {
    default: "correlated",
    meaning:
      '"correlated" raises the noise by the correlation of neighbouring stations and slices. ' +
      '"independent" takes every error for independent, as tests and prices usually assume: it ' +
      "finds false boundaries and is there for comparison.",
  }),
  classDistance: numberOption({
    default: 0.12,
    from: 0,
    unit: "decades",
    meaning:
      "Difference in log10 resistivity over all slices from which two blocks are rather of two " +
      "classes (0.12 is a factor of 1.32). At 0 every block is a class of its own.",
  }),
  boreholes: customOption<readonly Borehole[]>({
    default: Object.freeze([]),
    rule: "a list of boreholes",
    holds: Array.isArray,
    role: "data",
    shown: (boreholes) => boreholes.map(({ borehole }) => borehole),
    meaning:
      "The survey's boreholes: the table of classes then says which strata the boreholes in each " +
      "class met. They move no boundary and name no class.",
  }),
};

/** Options of `segmentBlocks`, resolved. */
export interface SegmentBlocksOptions extends OptionsOf<typeof segmentBlocksOptions> {}

export const segmentBlocksDefaults: SegmentBlocksOptions = defaultsOf(segmentBlocksOptions);
