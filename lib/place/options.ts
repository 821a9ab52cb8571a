import { type Fault, quoted } from "../step/step-error.js";

/** How readings get their place along the bank. */
export interface PlaceOptions {
  /**
   * "smooth" takes the jitter and the spikes out of the positions by a smoother that knows how people
   * walk; "keep" takes them as they came. Default "smooth"; passes without times are kept as they came.
   */
  readonly jitter?: "smooth" | "keep";
  /**
   * Error of the receiver that changes slowly, so that no smoothing shows it; goes into
   * `positionSd_m`. m, 0 or more, default 0.3.
   */
  readonly gpsError_m?: number;
  /** Longest gap in the positions that is bridged by time, m, 0 or more; 0 bridges none. Default 30. */
  readonly bridgeUpTo_m?: number;
  /** Longest time of such a gap, s, 0 or more. Default 30. */
  readonly bridgeUpTo_s?: number;
  /**
   * Time by which the readings are late: a reading belongs where the antenna was `timeLag_s` before.
   * s, −10 to 10; "estimate" finds it from passes walked in opposite directions, else from pegs with
   * times. Default 0.
   */
  readonly timeLag_s?: number | "estimate";
  /** The antenna's place before the middle of the coils, as walked, m. Default 0. */
  readonly antennaAhead_m?: number;
  /** The antenna's place to the left of the coils, as walked, m. Default 0. */
  readonly antennaLeft_m?: number;
  /**
   * Pegs are notes of kind `mark` with a chainage and either a time or a position. "check" compares
   * them with the chainages found; "correct" shifts the chainages to them, linearly from peg to peg;
   * "ignore" leaves them out. Default "check".
   */
  readonly pegs?: "check" | "correct" | "ignore";
  /**
   * Passes of a campaign that lie apart along the bank by what they read, beyond the time lag.
   * "correct" brings them to their middle where they are clearly apart (by 0.5 m and four standard
   * deviations); "check" only says so; "ignore" does not look. Or given: metres by which the chainages
   * of a file are too great, by file, −20 to 20. Default "correct".
   */
  readonly passShift_m?: "correct" | "check" | "ignore" | Readonly<Record<string, number>>;
  /**
   * "average" makes one reading of those made within 20 s while the walker stood still (the others
   * are set aside with that cause); "keep" leaves them. Default "average".
   */
  readonly standstill?: "average" | "keep";
}

export const PLACE_DEFAULTS = Object.freeze({
  jitter: "smooth",
  gpsError_m: 0.3,
  bridgeUpTo_m: 30,
  bridgeUpTo_s: 30,
  timeLag_s: 0,
  antennaAhead_m: 0,
  antennaLeft_m: 0,
  pegs: "check",
  passShift_m: "correct",
  standstill: "average",
} as const);

export type PlaceUsed = Required<PlaceOptions>;

const CHOICES = {
  jitter: ["smooth", "keep"],
  pegs: ["check", "correct", "ignore"],
  standstill: ["average", "keep"],
} as const;

/** Longest lag that is believed, s. */
export const LONGEST_LAG_S = 10;

/** What is wrong with the options. */
export function checkPlaceOptions(used: PlaceUsed): readonly Fault[] {
  const faults: Fault[] = [];
  const add = (name: string, expected: string, received: unknown) =>
    faults.push({
      code: "option-range",
      path: `options.${name}`,
      expected,
      received: quoted(received),
    });
  for (const name of ["gpsError_m", "bridgeUpTo_m", "bridgeUpTo_s"] as const) {
    if (!(used[name] >= 0)) add(name, "0 or more", used[name]);
  }
  for (const name of ["antennaAhead_m", "antennaLeft_m"] as const) {
    if (!(Math.abs(used[name]) <= 20)) add(name, "-20 to 20", used[name]);
  }
  const { timeLag_s } = used;
  if (timeLag_s !== "estimate" && !(Math.abs(timeLag_s) <= LONGEST_LAG_S)) {
    add("timeLag_s", 'a number from -10 to 10, or "estimate"', timeLag_s);
  }
  for (const [name, choices] of Object.entries(CHOICES)) {
    const value = used[name as keyof typeof CHOICES];
    if (!(choices as readonly string[]).includes(value)) {
      add(name, `one of ${choices.join(", ")}`, value);
    }
  }
  return [...faults, ...passShiftFaults(used)];
}

const SHIFT_CHOICES: readonly unknown[] = ["correct", "check", "ignore"];

function passShiftFaults({ passShift_m }: PlaceUsed): readonly Fault[] {
  const given = typeof passShift_m === "object" ? Object.entries(passShift_m ?? { "": null }) : [];
  const wrong = given.filter(([, metres]) => !(Math.abs(metres) <= 20));
  if (typeof passShift_m === "object" ? wrong.length === 0 : SHIFT_CHOICES.includes(passShift_m)) {
    return [];
  }
  return [
    {
      code: "option-range",
      path: "options.passShift_m",
      expected: "one of correct, check, ignore, or metres from -20 to 20 by file",
      received: quoted(passShift_m),
    },
  ];
}
