import { checkNumber, NOT_NEGATIVE, POSITIVE, type Rule } from "../earth/check.js";
import { type Fault, quoted } from "../numerics/step-error.js";
import { unknownOptions } from "../step/unknown-options.js";

export interface MaskOptions {
  /**
   * Score from which a reading is taken as disturbed, in standard deviations of undisturbed readings;
   * default 4.5, once in 300,000 readings if the noise is normal; what looks like a burst of noise is
   * left out besides. Lower finds weaker metal and loses more good ground.
   */
  readonly threshold?: number;
  /** A stretch goes on while the score stays above this; default 2. */
  readonly growTo?: number;
  /**
   * Least part of an excursion, as squares of noise, that no layered ground explains, 0 to 1; default
   * 0.04. Higher spares more of what is nearly ground-like, such as narrow conductors.
   */
  readonly share?: number;
  /** Score from which a noted object counts as seen; default 3.5, below `threshold` as few are tried. */
  readonly traceThreshold?: number;
  /** How far the local level looks to each side, m; default 16. Several times the coil separation. */
  readonly window_m?: number;
  /** Added at both ends of a detected stretch, m; default 1.5; 0 is allowed. */
  readonly margin_m?: number;
  /** Stretches closer than this become one, m; default 4; 0 is allowed. */
  readonly mergeWithin_m?: number;
  /** Uncertainty of notes and readings along the line, m; default 2; 0 is allowed. */
  readonly positionError_m?: number;
  /**
   * How far noted metal reaches beyond its ends, m; default null: the largest separation plus height
   * of the coils, plus `positionError_m`. Also how far aside of a line it reaches.
   */
  readonly reach_m?: number | null;
  /**
   * What becomes of stretches of 30 m or more that something along the line shifts as a whole: "mask",
   * the default, sets them aside; "say" leaves them in use with a caution; "off" does not look.
   */
  readonly alongLine?: "mask" | "say" | "off";
  /**
   * True leaves channels in use in which a stretch shows nothing; default false: all channels of a
   * reading are set aside together. A channel that shows nothing may still be a little off.
   */
  readonly perChannel?: boolean;
  /** True sets noted objects aside even where no channel shows them; default false. */
  readonly maskSilent?: boolean;
}

export const maskDefaults: Required<MaskOptions> = Object.freeze({
  threshold: 4.5,
  growTo: 2,
  share: 0.04,
  traceThreshold: 3.5,
  window_m: 16,
  margin_m: 1.5,
  mergeWithin_m: 4,
  positionError_m: 2,
  reach_m: null,
  alongLine: "mask",
  perChannel: false,
  maskSilent: false,
});

const SHARE: Rule = {
  code: "option-range",
  expected: "a number from 0 to 1",
  holds: (value) => value >= 0 && value <= 1,
};

export function maskOptionFaults(options: Required<MaskOptions>): Fault[] {
  const faults: Fault[] = [];
  const check = (name: keyof MaskOptions, rule: Rule) =>
    checkNumber(faults, `options.${name}`, [options[name], { ...rule, code: "option-range" }]);
  check("threshold", POSITIVE);
  check("growTo", POSITIVE);
  check("traceThreshold", POSITIVE);
  check("window_m", POSITIVE);
  check("share", SHARE);
  check("margin_m", NOT_NEGATIVE);
  check("mergeWithin_m", NOT_NEGATIVE);
  check("positionError_m", NOT_NEGATIVE);
  if (options.reach_m !== null) check("reach_m", NOT_NEGATIVE);
  if (options.threshold > 0 && options.growTo > options.threshold) {
    const received = `${options.growTo} with a threshold of ${options.threshold}`;
    const expected = "at most options.threshold";
    faults.push({ code: "option-order", path: "options.growTo", expected, received });
  }
  if (!["mask", "say", "off"].includes(options.alongLine)) {
    const received = quoted(options.alongLine);
    const expected = '"mask", "say" or "off"';
    faults.push({ code: "option-value", path: "options.alongLine", expected, received });
  }
  for (const name of ["maskSilent", "perChannel"] as const) {
    if (typeof options[name] === "boolean") continue;
    const received = quoted(options[name]);
    const path = `options.${name}`;
    faults.push({ code: "option-value", path, expected: "true or false", received });
  }
  return [...faults, ...unknownOptions(options, maskDefaults)];
}
