import { optionFaults, resolved } from "../../step/options/resolve.js";
import { StepError } from "../../step/step-error.js";
import type { Channel } from "../../survey/survey.js";
import { fitGround, type GroundFit, type ZeroOffset } from "./fit-ground.js";
import { heightData } from "./height-data.js";
import { type HeightReading, heightFaults } from "./height-readings.js";
import { groundOf, type LogGround } from "./layered-ground.js";
import { type ZeroLevelOptions, zeroLevelOptions } from "./options.js";

/** What a height test says. */
export interface ZeroLevel {
  /** One entry for each channel with readings at two heights at least. */
  readonly channels: readonly ZeroOffset[];
  /** The ground under the spot that goes with them. */
  readonly earth: {
    readonly conductivity_S_per_m: readonly number[];
    readonly thickness_m: readonly number[];
  };
  /** Root mean square of the residuals in standard deviations of the noise; near 1 is well. */
  readonly misfit: number;
}

/**
 * The zero level of each channel from readings at several heights over one spot: the ground's part
 * dies away with height as the layered response says, an offset stays.
 *
 * Rule: a half-space and a two-layer earth, common to all channels, and one offset for each channel
 * are fitted by least squares; the earth with the lower Bayesian information criterion is taken.
 *
 * `readings`: heights (m) and values (channel's unit) of m readings, in any order; repeats are
 * welcome. `channels`: the instrument's; those without readings at two heights are left out of the
 * result. Options: see `ZeroLevelOptions`. Output: offsets with standard errors (widened where the
 * fit is worse than the noise), the earth, the misfit.
 *
 * Limits: heights that differ by less than half the coils' separation determine it badly, which the
 * errors show. A spot with metal or over a slope is no layered ground: see the misfit. A gain that
 * is wrong is not found. Throws StepError with every fault.
 *
 * Source: common practice (height tests); Wait 1982 (response); Schwarz 1978 (criterion).
 *
 * @example
 * zeroLevel([{ height_m: 0.5, values: {} }, { height_m: 1, values: {} }], []).channels.length; // 0
 */
export function zeroLevel(
  readings: readonly HeightReading[],
  channels: readonly Channel[],
  options: Partial<ZeroLevelOptions> = {},
): ZeroLevel {
  const used = resolved(zeroLevelOptions, options);
  const faults = [
    ...optionFaults(zeroLevelOptions, options),
    ...heightFaults(readings, "readings"),
  ];
  if (faults.length > 0) throw new StepError("zeroLevel", faults);
  const data = heightData(readings, channels, used);
  const [uniform, layered] = [fitGround(data, HALF_SPACES), fitGround(data, TWO_LAYERS)];
  const criterion = ({ cost, ground }: GroundFit) => cost + ground.length * Math.log(data.length);
  const best = criterion(layered) < criterion(uniform) ? layered : uniform;
  const freedom = Math.max(1, data.length - best.offsets.length - best.ground.length);
  const misfit = Math.sqrt(best.cost / freedom);
  return {
    channels: best.offsets.map((one) => ({ ...one, error: one.error * Math.max(1, misfit) })),
    earth: groundOf(best.ground),
    misfit,
  };
}

/** Where the fit starts: ln S/m, and ln m for the upper layer. */
const LEVELS = [-6, -4.5, -3, -1.5];
const HALF_SPACES: readonly LogGround[] = LEVELS.map((level) => [level]);
const TWO_LAYERS: readonly LogGround[] = LEVELS.flatMap((top) =>
  LEVELS.flatMap((below) => [-0.4, 0.7].map((thickness) => [top, below, thickness])),
);
