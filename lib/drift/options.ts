import { choiceOption, customOption, flagOption } from "../step/options/kinds.js";
import { numberOption, valueFault } from "../step/options/number.js";
import type { OptionsOf } from "../step/options/option.js";
import { defaultsOf } from "../step/options/resolve.js";
import type { Fault } from "../step/step-error.js";
import { isoTime } from "../survey/iso-time.js";
import type { DriftModel } from "./drift.js";
import { type HeightReading, heightFaults } from "./zero/height-readings.js";

const restarts = "a list of times, s since 1970 or ISO 8601 with offset";

export const driftOptions = {
  model: choiceOption<DriftModel | "auto" | "none">(
    ["auto", "average", "piecewise-linear", "random-walk", "smoothing-spline", "none"],
    {
      default: "auto",
      meaning:
        '"average" is the Bayesian average over no drift, a straight one, one that warms up, ' +
        'swings or wanders, each in many sizes and with or without steps; "piecewise-linear" ' +
        'goes straight from visit to visit; "random-walk" is a random walk about a straight ' +
        'line, "smoothing-spline" a smoothing spline; "none" only reports the drift. "auto" is ' +
        "the average where the errors of a channel's checks are known, else straight pieces. A " +
        "model that the data cannot determine (without known errors all but straight pieces, " +
        "with crossovers the straight pieces) gives way likewise.",
    },
  ),
  restarts: customOption<readonly (number | string)[]>({
    default: [],
    rule: restarts,
    faults: restartFaults,
    meaning:
      "Times at which the instrument was started anew or its battery changed: the level is free " +
      "there in every channel. A time before the first or after the last check changes nothing; " +
      "of several between two checks the last counts.",
  }),
  crossings: choiceOption(["auto", "always", "never"], {
    default: "auto",
    meaning:
      "Use of crossovers, readings of one channel at the same place at different times: " +
      '"auto" uses them where a channel has fewer than three visits to the spot.',
  }),
  crossingWithin_m: numberOption({
    default: 1,
    above: 0,
    unit: "m",
    meaning: "Distance within which two readings are of the same place.",
  }),
  crossingApart_s: numberOption({
    default: 600,
    above: 0,
    unit: "s",
    meaning: "Least time between the two readings of a crossover.",
  }),
  heightTest: customOption<readonly HeightReading[] | null>({
    default: null,
    rule: "null, or readings at two heights at least",
    faults: (value, path) => (value === null ? [] : heightFaults(value, path)),
    meaning:
      "Readings at several heights over one spot: each channel's zero level is found by " +
      "`zeroLevel` and taken off all its readings. null: no height test.",
  }),
  groupWithin_s: numberOption({
    default: 150,
    above: 0,
    unit: "s",
    meaning: "Repeats less than this apart are one visit to the fixed spot.",
  }),
  stepWithin_s: numberOption({
    default: 900,
    above: 0,
    unit: "s",
    meaning: "Visits at most this far apart may show a step even with a walk between them.",
  }),
  stepMinimum: numberOption({
    default: 4,
    above: 0,
    meaning: "Least size of a step, in standard errors of the difference of two visits.",
  }),
  stepSpeed: numberOption({
    default: 2,
    above: 0,
    meaning: "Least rate of a step, in multiples of the channel's fastest drift elsewhere.",
  }),
  evidence: numberOption({
    default: 2,
    above: 0,
    title: "Least evidence for a drift to be taken off (Bayes factor)",
    meaning:
      "With the average, a channel is corrected where the Bayes factor of a drift or a step " +
      "against none exceeds this. Higher corrects fewer channels.",
  }),
  significance: numberOption({
    default: 0.01,
    above: 0,
    below: 1,
    meaning:
      "With a model asked for by name, or where no error is known, a channel is corrected where " +
      "the p-value of constant checks lies below this.",
  }),
  unseenDrift: numberOption({
    default: 5,
    from: 0,
    meaning:
      "Standard deviation of a drift, and of a zero between two times of work, that no check " +
      "tells, in noises of one reading (of the walk, at the channel's middle value): what is " +
      "handed on as `driftSd` without checks, and within the hour after a single one. Common " +
      "practice.",
  }),
  always: flagOption({
    default: false,
    meaning: "True corrects every channel with two visits or more, significant or not.",
  }),
};

/** Options of `correctDrift`, resolved. */
export interface DriftOptions extends OptionsOf<typeof driftOptions> {}

export const driftDefaults: DriftOptions = defaultsOf(driftOptions);

function restartFaults(given: unknown, path: string): readonly Fault[] {
  if (!Array.isArray(given)) return [valueFault(given, path, restarts)];
  return given.flatMap((one: unknown, i): readonly Fault[] =>
    Number.isFinite(restartTime(one)) ? [] : [valueFault(one, `${path}[${i}]`, restarts)],
  );
}

/** Seconds since 1970; NaN for what is no time. */
export function restartTime(given: unknown): number {
  if (typeof given === "number") return given;
  const time = typeof given === "string" ? isoTime(given) : Number.NaN;
  return typeof time === "number" ? time : Number.NaN;
}
