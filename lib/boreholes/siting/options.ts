import { groupOption } from "../../step/options/kinds.js";
import { numberOption, numberOr } from "../../step/options/number.js";
import type { OptionsOf } from "../../step/options/option.js";
import { defaultsOf } from "../../step/options/resolve.js";

const weight = (value: number, meaning: string) =>
  numberOption({ default: value, from: 0, meaning });

export const sitingOptions = {
  holes: numberOr([null], {
    default: 5,
    from: 1,
    whole: true,
    meaning: "Boreholes to propose at the most; null where `metres` alone is the budget.",
  }),
  metres: numberOr([null], {
    default: null,
    above: 0,
    unit: "m",
    meaning: "Metres to drill at the most; null where `holes` alone is the budget.",
  }),
  clear_m: numberOption({
    default: 10,
    from: 0,
    unit: "m",
    meaning:
      "Distance along the bank from stretches set aside, noted metal and noted structures. It does " +
      "not stand for a search for services.",
  }),
  minDepth_m: numberOption({
    default: 3,
    above: 0,
    unit: "m",
    meaning: "Least depth, and least depth into the natural ground of a hole from the crest.",
  }),
  step_m: numberOption({
    default: 10,
    above: 0,
    unit: "m",
    meaning: "Distance along the bank between places that are weighed.",
  }),
  weights: groupOption(
    {
      soil: weight(1, "A metre of bank whose soil a hole tells."),
      block: weight(0.25, "A metre of a block that no hole has met."),
      class: weight(0.25, "A metre of a class of blocks that no hole has met."),
      boundary: weight(1, "A metre by which a block's end becomes surer."),
      seepage: weight(4, "A metre of a seepage zone, times its probability."),
      change: weight(0.5, "A metre of a stretch that changed between campaigns."),
    },
    { meaning: "What a metre of bank counts for: the interpreter's own judgement." },
  ),
};

/** Options of `siteBoreholes`, resolved. */
export interface SitingOptions extends OptionsOf<typeof sitingOptions> {}

export const sitingDefaults: SitingOptions = defaultsOf(sitingOptions);
