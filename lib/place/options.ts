import { choiceOption, customOption } from "../step/options/kinds.js";
import { isWithin, numberOption, numberOr } from "../step/options/number.js";
import type { OptionsOf } from "../step/options/option.js";
import { defaultsOf } from "../step/options/resolve.js";

/** Longest lag of the readings behind the antenna that is looked for, s. */
export const LONGEST_LAG_S = 10;

/** Farthest that passes may be given to lie apart, and the antenna from the coils, m. */
const FARTHEST_M = 20;

const shiftWords = ["correct", "check", "ignore"] as const;

/** What to do with passes that lie apart: a word, or metres by file. */
export type PassShiftOption = (typeof shiftWords)[number] | Readonly<Record<string, number>>;

/** How readings get their place along the bank. */
export const placeOptions = {
  jitter: choiceOption(["smooth", "keep"], {
    default: "smooth",
    title: "Jitter of positions",
    meaning:
      "smooth takes the jitter and the spikes out of the positions by a smoother that knows how " +
      "people walk; keep takes them as they came. Passes without times are kept as they came.",
  }),
  gpsError_m: numberOption({
    default: 0.3,
    from: 0,
    unit: "m",
    meaning:
      "Error of the receiver that changes slowly, so that no smoothing shows it; goes into " +
      "positionSd_m.",
  }),
  bridgeUpTo_m: numberOption({
    default: 30,
    from: 0,
    unit: "m",
    meaning: "Longest gap in the positions that is bridged by time; 0 bridges none.",
  }),
  bridgeUpTo_s: numberOption({
    default: 30,
    from: 0,
    unit: "s",
    meaning: "Longest time of such a gap.",
  }),
  timeLag_s: numberOr(["estimate"], {
    default: 0,
    from: -LONGEST_LAG_S,
    upTo: LONGEST_LAG_S,
    unit: "s",
    meaning:
      "Time by which the readings are late: a reading belongs where the antenna was so long " +
      "before. estimate finds it from passes walked in opposite directions, else from pegs with " +
      "times.",
  }),
  antennaAhead_m: numberOption({
    default: 0,
    from: -FARTHEST_M,
    upTo: FARTHEST_M,
    unit: "m",
    meaning: "The antenna's place before the middle of the coils, as walked.",
  }),
  antennaLeft_m: numberOption({
    default: 0,
    from: -FARTHEST_M,
    upTo: FARTHEST_M,
    unit: "m",
    meaning: "The antenna's place to the left of the coils, as walked.",
  }),
  pegs: choiceOption(["check", "correct", "ignore"], {
    default: "check",
    meaning:
      "Pegs are notes of kind mark with a chainage and either a time or a position. check " +
      "compares them with the chainages found; correct shifts the chainages to them, linearly " +
      "from peg to peg; ignore leaves them out.",
  }),
  passShift_m: customOption<PassShiftOption>({
    default: "correct",
    rule: `one of ${shiftWords.join(", ")}, or metres from -${FARTHEST_M} to ${FARTHEST_M} by file`,
    holds: isPassShift,
    unit: "m",
    title: "Passes that lie apart along the bank",
    meaning:
      "Passes of a campaign that lie apart along the bank by what they read, beyond the time " +
      "lag. correct brings them to their middle where they are clearly apart (by 0.5 m and four " +
      "standard deviations); check only says so; ignore does not look. Or given: metres by which " +
      "the chainages of a file are too great, by file.",
  }),
  line: customOption<string | null>({
    default: null,
    rule: "the name of a walked line, or null",
    holds: (value) => value === null || typeof value === "string",
    meaning:
      "Where several lines were walked (more than 3 m apart across the bank), the one that the " +
      "steps after this one read first; the others follow by themselves. null takes the one " +
      "nearest to the centreline of those walked at least half as much as any.",
  }),
  standstill: choiceOption(["average", "keep"], {
    default: "average",
    meaning:
      "average makes one reading of those made within 20 s while the walker stood still (the " +
      "others are set aside with that cause); keep leaves them.",
  }),
  unread: choiceOption(["set aside", "keep"], {
    default: "set aside",
    title: "Values that the coils did not read",
    meaning:
      "A channel that stands still while others move or for 30 rows on end, one at the end of its " +
      "range (quadrature and conductivity), a value far from all others that stands for none. set " +
      "aside takes these values, channel by channel, out of use with that cause; keep leaves them.",
  }),
};

function isPassShift(given: unknown): boolean {
  if (typeof given !== "object") return (shiftWords as readonly unknown[]).includes(given);
  const range = { from: -FARTHEST_M, upTo: FARTHEST_M };
  return given !== null && Object.values(given).every((metres) => isWithin(metres, range));
}

/** Options of `placeReadings`, resolved. */
export interface PlaceOptions extends OptionsOf<typeof placeOptions> {}

export const placeDefaults: PlaceOptions = defaultsOf(placeOptions);
