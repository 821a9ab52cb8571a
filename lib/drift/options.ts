import { checkNumber, POSITIVE, type Rule } from "../earth/check.js";
import { type Fault, quoted } from "../numerics/step-error.js";
import { unknownOptions } from "../step/unknown-options.js";
import { isoTime } from "../survey/iso-time.js";
import type { DriftModel } from "./drift.js";
import { type HeightReading, heightFaults } from "./zero/zero-level.js";

export interface DriftOptions {
  /**
   * The drift between checks: "average" weighs no drift, a straight one, one that warms up, swings
   * or wanders, each in many sizes and with or without steps, by how likely the checks make it;
   * "piecewise-linear" goes straight from visit to visit; "random-walk" wanders about a straight line
   * in its level, "smoothing-spline" in its slope; "none" only reports the drift. "auto", the default,
   * is "average" where a channel's checks bear it (errors known), else straight pieces. A model that
   * the checks do not bear (no error known: all but straight pieces; crossings: straight pieces)
   * gives way likewise.
   */
  readonly model?: DriftModel | "auto" | "none";
  /**
   * Times at which the instrument was started anew or its battery changed, s since 1970 or ISO 8601
   * with offset: there the level is free in every channel. Default none. A time before the first or
   * after the last check changes nothing; of several between two checks the last counts.
   */
  readonly restarts?: readonly (number | string)[];
  /**
   * Readings of one channel at the same place at different times: "auto", the default, uses them
   * where a channel has fewer than three visits to the spot; "always"; "never".
   */
  readonly crossings?: "auto" | "always" | "never";
  /** How near two readings must lie to be of the same place, m; default 1. */
  readonly crossingWithin_m?: number;
  /** How long after the first the second must be taken, s; default 600. */
  readonly crossingApart_s?: number;
  /**
   * Readings at several heights over one spot: each channel's zero level is found by `zeroLevel` and
   * taken off all its readings. Default null: no height test. Two heights at least.
   */
  readonly heightTest?: readonly HeightReading[] | null;
  /** Repeats less than this apart are one visit to the fixed spot, s; default 150. */
  readonly groupWithin_s?: number;
  /** Visits at most this far apart may show a step even with a walk between them, s; default 900. */
  readonly stepWithin_s?: number;
  /** Least size of a step, in standard errors of the difference of two visits; default 4. */
  readonly stepMinimum?: number;
  /** Least rate of a step, in multiples of the channel's fastest drift elsewhere; default 2. */
  readonly stepSpeed?: number;
  /**
   * With the average, a channel is corrected where its checks are more than this many times likelier
   * with a drift or a step than without, above 0; default 2. Higher corrects fewer channels.
   */
  readonly evidence?: number;
  /**
   * With a model asked for by name, or where no error is known, a channel is corrected where p of
   * constant checks lies below this, 0 to 1; default 0.01.
   */
  readonly significance?: number;
  /** True corrects every channel with two visits or more, significant or not; default false. */
  readonly always?: boolean;
}

export const driftDefaults: Required<DriftOptions> = Object.freeze({
  model: "auto",
  restarts: [],
  crossings: "auto",
  crossingWithin_m: 1,
  crossingApart_s: 600,
  heightTest: null,
  groupWithin_s: 150,
  stepWithin_s: 900,
  stepMinimum: 4,
  stepSpeed: 2,
  evidence: 2,
  significance: 0.01,
  always: false,
});

const PROBABILITY: Rule = {
  code: "option-range",
  expected: "a number above 0 and below 1",
  holds: (value) => value > 0 && value < 1,
};

const ABOVE_0 = [
  "groupWithin_s",
  "stepWithin_s",
  "stepMinimum",
  "stepSpeed",
  "crossingWithin_m",
  "crossingApart_s",
  "evidence",
] as const;
const MODELS = ["auto", "average", "piecewise-linear", "random-walk", "smoothing-spline", "none"];
const CROSSINGS = ["auto", "always", "never"];

export function driftOptionFaults(options: Required<DriftOptions>): Fault[] {
  const faults: Fault[] = [];
  for (const name of ABOVE_0) {
    const rule = { ...POSITIVE, code: "option-range" };
    checkNumber(faults, `options.${name}`, [options[name], rule]);
  }
  checkNumber(faults, "options.significance", [options.significance, PROBABILITY]);
  faults.push(...wordFaults("model", options.model, MODELS));
  faults.push(...wordFaults("crossings", options.crossings, CROSSINGS));
  faults.push(...restartFaults(options.restarts));
  if (options.heightTest !== null) {
    faults.push(...heightFaults(options.heightTest, "options.heightTest"));
  }
  if (typeof options.always !== "boolean") {
    const received = quoted(options.always);
    const path = "options.always";
    faults.push({ code: "option-value", path, expected: "true or false", received });
  }
  return [...faults, ...unknownOptions(options, driftDefaults)];
}

function wordFaults(name: string, given: unknown, words: readonly string[]): readonly Fault[] {
  if (words.includes(given as string)) return [];
  const expected = words.map((word) => `"${word}"`).join(", ");
  const received = quoted(given);
  return [
    { code: "option-value", path: `options.${name}`, expected: `one of ${expected}`, received },
  ];
}

function restartFaults(restarts: unknown): readonly Fault[] {
  const expected = "a list of times, s since 1970 or ISO 8601 with offset";
  const fault = { code: "option-value", expected } as const;
  if (!Array.isArray(restarts)) {
    return [{ ...fault, path: "options.restarts", received: quoted(restarts) }];
  }
  return restarts.flatMap((one: unknown, i): Fault[] => {
    if (Number.isFinite(restartTime(one))) return [];
    return [{ ...fault, path: `options.restarts[${i}]`, received: quoted(one) }];
  });
}

/** Seconds since 1970; NaN for what is no time. */
export function restartTime(given: unknown): number {
  if (typeof given === "number") return given;
  const time = typeof given === "string" ? isoTime(given) : Number.NaN;
  return typeof time === "number" ? time : Number.NaN;
}
