import { customOption } from "../../step/options/kinds.js";
import { numberOption } from "../../step/options/number.js";
import type { OptionsOf } from "../../step/options/option.js";
import { defaultsOf } from "../../step/options/resolve.js";
import { invertSectionOptions } from "../section-options.js";

const label = (meaning: string) =>
  customOption<string | null>({
    default: null,
    rule: "a campaign's label, or null",
    holds: (value) => value === null || typeof value === "string",
    meaning,
  });

const { campaign: _, ...shared } = invertSectionOptions;

export const sectionChangeOptions = {
  ...shared,
  earlier: label("The earlier campaign; null: the line's first."),
  later: label("The later campaign; null: the line's second."),
  q: numberOption({
    default: 0.05,
    above: 0,
    below: 0.5,
    meaning: "Share of the cells called changed that may be so by chance, as the draws have it.",
  }),
  changeSd: numberOption({
    default: 0.15,
    above: 0,
    meaning: "Standard deviation of log10 of a change as believed where no reading looks.",
  }),
};

/** Options of `invertSectionChange`, resolved. */
export interface SectionChangeOptions extends OptionsOf<typeof sectionChangeOptions> {}

export const sectionChangeDefaults: SectionChangeOptions = defaultsOf(sectionChangeOptions);
