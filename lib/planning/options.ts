import { customOption } from "../step/options/kinds.js";
import { numberOption, numberOr } from "../step/options/number.js";
import type { OptionsOf } from "../step/options/option.js";
import { defaultsOf } from "../step/options/resolve.js";
import type { ReadingNoise } from "../survey/survey.js";

const positive = (value: number, unit: string, meaning: string) =>
  numberOption({ default: value, above: 0, unit, meaning });

const notNegative = (value: number, unit: string, meaning: string) =>
  numberOption({ default: value, from: 0, unit, meaning });

/** Noise of one reading of a channel, as `maskInterference` hands it on. */
type MeasuredNoise = Pick<ReadingNoise, "channel" | "floor" | "share_pct">;

const floor = notNegative(1, "", "Least noise of a reading, in the channel's unit.");
const share = notNegative(0, "%", "Share that is noise.");

export const planOptions = {
  spacing_m: positive(1, "m", "Distance of readings along the line."),
  walks: numberOption({
    default: 1,
    from: 1,
    whole: true,
    meaning: "Walks over the same line, each with all channels.",
  }),
  height_m: numberOr([null], {
    default: null,
    from: 0,
    unit: "m",
    meaning: "Height of the coils; null takes the instrument's.",
  }),
  quadratureFloor_ppm: positive(
    10,
    "ppm",
    "Least noise of a reading; of apparent conductivities, that of their quadrature.",
  ),
  inphaseFloor_ppm: positive(30, "ppm", "Least noise of a reading of an in-phase channel."),
  proportionalNoise: numberOption({
    default: 0.02,
    from: 0,
    below: 1,
    meaning: "Share of the value that is noise of a reading.",
  }),
  noise: customOption<readonly MeasuredNoise[]>({
    default: Object.freeze([]),
    role: "data",
    rule: "a list of channels, each with the floor and share_pct of its noise",
    holds: Array.isArray,
    faults: (list, path) =>
      Array.isArray(list)
        ? list.flatMap((one, i) => [
            ...floor.faults(one?.floor, `${path}[${i}].floor`),
            ...share.faults(one?.share_pct, `${path}[${i}].share_pct`),
          ])
        : [],
    meaning:
      "Measured noise by channel, which goes before the floors and the share above; a channel " +
      "whose measured noise is 0 throughout takes those.",
  }),
  groundSd: notNegative(0.15, "", "Natural variation of layers along the line, deviation of ln."),
  groundLength_m: positive(20, "m", "Chainage over which that variation fades."),
  groundDepth_m: positive(1, "m", "Depth over which layers vary together."),
  window_m: positive(50, "m", "Ground on either side that the target is judged against."),
  falseAlarm: numberOption({
    default: 0.01,
    above: 0,
    below: 0.5,
    meaning: "Probability of a false alarm at a place without a target.",
  }),
  addsNothing: numberOption({
    default: 0.02,
    above: 0,
    below: 1,
    meaning: "A channel adds nothing where its loss costs less than this share.",
  }),
  speed_m_per_s: positive(1, "m/s", "Walking speed."),
  overheadShare: notNegative(0.5, "", "Time for checks, turns and marks over that of walking."),
};

/** Options of `planProfiling`, resolved. */
export interface PlanOptions extends OptionsOf<typeof planOptions> {}

export const planDefaults: PlanOptions = defaultsOf(planOptions);
