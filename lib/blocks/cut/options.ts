import { choiceOption, customOption, flagOption } from "../../step/options/kinds.js";
import { numberOption, numberOr, numbersOption } from "../../step/options/number.js";
import type { OptionsOf } from "../../step/options/option.js";
import { defaultsOf } from "../../step/options/resolve.js";
import type { ChangeKind } from "./segment-cost.js";

const kinds: readonly ChangeKind[] = ["mean", "mean and spread"];

export const changeOption = choiceOption(kinds, {
  default: "mean",
  meaning:
    'What may change at a boundary: "mean", the noise being known, or "mean and spread", which ' +
    "also separates an even stretch from an uneven one of the same mean.",
});

const variances = numbersOption({ default: [], above: 0, meaning: "" });

const segmentOptions = {
  minLength: numberOption({
    default: 1,
    from: 1,
    whole: true,
    meaning: "Fewest samples of a segment, missing ones included.",
  }),
  change: changeOption,
  noise: customOption<readonly number[] | null>({
    default: null,
    rule: `${variances.rule}, or null`,
    faults: (value, path) => (value === null ? [] : variances.faults(value, path)),
    meaning:
      "Noise variance of each column, in the column's unit squared. null estimates it: the " +
      "square of the robust scale (1.4826 × median absolute deviation) of first differences, " +
      "over 2.",
  }),
};

export const changePointOptions = {
  penalty: numberOr(["mbic"], {
    default: "mbic",
    from: 0,
    meaning:
      "Price of a break in units of squared noise: one number for every break, or " +
      '"mbic", the modified Bayes information criterion.',
  }),
  ...segmentOptions,
};

/** Options of `findChangePoints`, resolved. */
export interface ChangePointOptions extends OptionsOf<typeof changePointOptions> {}

export const changePointDefaults: ChangePointOptions = defaultsOf(changePointOptions);

export const changePointPathOptions = {
  ...segmentOptions,
  from: numberOr([null], {
    default: null,
    from: 0,
    meaning: "Lowest price per break. null: a quarter of 2 ln n, n being the samples present.",
  }),
  to: customOption<number>({
    default: Number.POSITIVE_INFINITY,
    rule: "a number above 0, or Infinity",
    holds: (value) => typeof value === "number" && value > 0,
    meaning: "Highest price per break, above `from`.",
  }),
  lengthTerms: flagOption({
    default: false,
    meaning: 'Whether the length terms of "mbic" are part of the cost.',
  }),
};

/** Options of `findChangePointPath`, resolved. */
export interface ChangePointPathOptions extends OptionsOf<typeof changePointPathOptions> {}
