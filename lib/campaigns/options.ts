import { choiceOption } from "../step/options/kinds.js";
import { numberOption } from "../step/options/number.js";

/** Options that the steps over two and over several campaigns share. */

/** Whether a difference common to the whole line is removed. */
export const levelOption = (meaning: string) =>
  choiceOption(["majority", "none"], { default: "majority", meaning });

export const alignOption = (meaning: string) =>
  numberOption({ default: 4, from: 0, upTo: 20, unit: "m", meaning });

/** An error rate, by default 5 %. */
export const errorRateOption = (meaning: string) =>
  numberOption({ default: 0.05, above: 0, upTo: 0.999, meaning });

/** A length from 0 on. */
export const lengthOption = (value: number, meaning: string) =>
  numberOption({ default: value, from: 0, unit: "m", meaning });

/** What makes stretches of significant stations. */
export const stretchOptions = {
  joinWithin_m: lengthOption(10, "Stretches of one direction that are nearer than this are one."),
  minLength_m: lengthOption(12, "Shorter stretches are not reported."),
};
