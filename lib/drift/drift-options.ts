import { checkNumber, POSITIVE, type Rule } from "../earth/check.js";
import { type Fault, quoted } from "../numerics/step-error.js";
import { unknownOptions } from "../result/unknown-options.js";

export interface DriftOptions {
  /** "piecewise-linear" corrects where the checks show drift; "none" only reports it. */
  readonly model?: "piecewise-linear" | "none";
  /** Repeats less than this apart are one visit to the fixed spot, s; default 150. */
  readonly groupWithin_s?: number;
  /** Visits at most this far apart may show a step even with a walk between them, s; default 900. */
  readonly stepWithin_s?: number;
  /** Least size of a step, in standard errors of the difference of two visits; default 4. */
  readonly stepMinimum?: number;
  /** Least rate of a step, in multiples of the channel's fastest drift elsewhere; default 2. */
  readonly stepSpeed?: number;
  /** A channel is corrected where p of constant checks lies below this, 0 to 1; default 0.01. */
  readonly significance?: number;
  /** True corrects every channel with two visits or more, significant or not; default false. */
  readonly always?: boolean;
}

export const driftDefaults: Required<DriftOptions> = Object.freeze({
  model: "piecewise-linear",
  groupWithin_s: 150,
  stepWithin_s: 900,
  stepMinimum: 4,
  stepSpeed: 2,
  significance: 0.01,
  always: false,
});

const PROBABILITY: Rule = {
  code: "option-range",
  expected: "a number above 0 and below 1",
  holds: (value) => value > 0 && value < 1,
};

export function driftOptionFaults(options: Required<DriftOptions>): Fault[] {
  const faults: Fault[] = [];
  for (const name of ["groupWithin_s", "stepWithin_s", "stepMinimum", "stepSpeed"] as const) {
    const rule = { ...POSITIVE, code: "option-range" };
    checkNumber(faults, `options.${name}`, [options[name], rule]);
  }
  checkNumber(faults, "options.significance", [options.significance, PROBABILITY]);
  if (options.model !== "piecewise-linear" && options.model !== "none") {
    const expected = '"piecewise-linear" or "none"';
    const received = quoted(options.model);
    faults.push({ code: "option-value", path: "options.model", expected, received });
  }
  if (typeof options.always !== "boolean") {
    const received = quoted(options.always);
    const path = "options.always";
    faults.push({ code: "option-value", path, expected: "true or false", received });
  }
  return [...faults, ...unknownOptions(options, driftDefaults)];
}
