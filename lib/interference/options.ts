import { choiceOption, flagOption } from "../step/options/kinds.js";
import { numberOption, numberOr } from "../step/options/number.js";
import type { OptionsOf } from "../step/options/option.js";
import { defaultsOf } from "../step/options/resolve.js";

const score = (value: number, meaning: string) =>
  numberOption({ default: value, above: 0, meaning });

const distance = (value: number, meaning: string) =>
  numberOption({ default: value, from: 0, unit: "m", meaning });

export const maskOptions = {
  threshold: score(
    4.5,
    "Score from which a reading counts as disturbed, in standard deviations of undisturbed " +
      "readings. Lower finds weaker metal and loses more good ground.",
  ),
  growTo: score(2, "A stretch goes on while the score stays above this; at most `threshold`."),
  share: numberOption({
    default: 0.04,
    from: 0,
    upTo: 1,
    meaning:
      "Least part of an anomaly, as squares of noise, that no layered ground explains. Higher " +
      "spares more of what is nearly ground-like, such as narrow conductors.",
  }),
  traceThreshold: score(
    3.5,
    "Score from which the readings show a noted object; below `threshold`, as few are tried.",
  ),
  window_m: numberOption({
    default: 16,
    above: 0,
    unit: "m",
    meaning: "How far the local level looks to each side: several times the coil separation.",
  }),
  margin_m: distance(1.5, "Added at both ends of a detected stretch."),
  mergeWithin_m: distance(4, "Stretches closer than this become one."),
  positionError_m: distance(2, "Uncertainty of notes and readings along the line."),
  reach_m: numberOr([null], {
    default: null,
    from: 0,
    unit: "m",
    meaning:
      "How far noted metal reaches beyond its ends, and aside of a line; null takes the largest " +
      "separation plus height of the coils, plus `positionError_m`.",
  }),
  alongLine: choiceOption(["mask", "say", "off"], {
    default: "mask",
    meaning:
      'What becomes of stretches of 30 m or more that an object along the line shifts: "mask" ' +
      'sets them aside, "say" leaves them in use with a caution, "off" does not look.',
  }),
  perChannel: flagOption({
    default: false,
    meaning:
      "Leaves channels in use in which a stretch shows nothing; they may still be a little off. " +
      "Otherwise all channels of a reading are set aside together.",
  }),
  maskSilent: flagOption({
    default: false,
    meaning: "Sets noted objects aside even where no channel shows them.",
  }),
};

/** Options of `maskInterference`, resolved. */
export interface MaskOptions extends OptionsOf<typeof maskOptions> {}

export const maskDefaults: MaskOptions = defaultsOf(maskOptions);
