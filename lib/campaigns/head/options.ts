import { customOption, textOption } from "../../step/options/kinds.js";
import { numberOption, numbersOption } from "../../step/options/number.js";
import type { OptionsOf } from "../../step/options/option.js";
import { defaultsOf } from "../../step/options/resolve.js";
import { alignOption, errorRateOption, levelOption } from "../options.js";
import type { ChainageRange } from "../ranges.js";

export const headOptions = {
  point: textOption({
    default: "river",
    meaning:
      'Where the level was read: "river" or a piezometer\'s name. Left out where none of the ' +
      "levels is of the river, it is the first piezometer.",
  }),
  stretches: customOption<"even" | readonly ChainageRange[]>({
    default: "even",
    rule: '"even" or one or more stretches with from_m below to_m',
    holds: (value) =>
      value === "even" ||
      (Array.isArray(value) && value.length > 0 && value.every((one) => one?.to_m > one?.from_m)),
    meaning: 'Stretches to test, such as blocks or changes; or "even": the line in equal parts.',
  }),
  evenLength_m: numberOption({
    default: 50,
    above: 0,
    unit: "m",
    meaning: "Length of the equal parts.",
  }),
  lags_days: numbersOption({
    default: Object.freeze([0, 3, 7, 14, 30]),
    from: 0,
    least: 1,
    unit: "days",
    meaning: "Lags that are tried from six campaigns on; with fewer only the first.",
  }),
  level: levelOption(
    '"majority" takes off each campaign\'s median ratio to the first campaign over the line; ' +
      '"none" leaves it.',
  ),
  alignWithin_m: alignOption(
    "Greatest shift that co-registers each campaign to the chainage of the first.",
  ),
  q: errorRateOption("Expected share of false discoveries over all stretches and slices."),
};

/** Options of `responseToHead`, resolved. */
export interface HeadOptions extends OptionsOf<typeof headOptions> {}

export const headDefaults: HeadOptions = defaultsOf(headOptions);
