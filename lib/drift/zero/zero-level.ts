import { checkNumber, NOT_NEGATIVE, POSITIVE } from "../../earth/check.js";
import { median } from "../../numerics/robust.js";
import { type Fault, quoted, StepError } from "../../numerics/step-error.js";
import { unknownOptions } from "../../step/unknown-options.js";
import type { Channel } from "../../survey/survey.js";
import { earthOf, fitEarth, type HeightDatum, type LogEarth } from "./height-earth.js";

/** One reading over the spot of a height test. */
export interface HeightReading {
  /** Of the coils above ground, m. */
  readonly height_m: number;
  /** Channel field → value in the channel's unit; missing values are left out. */
  readonly values: Readonly<Record<string, number>>;
  /** s since 1970; null or left out where it is not known: no drift is taken off then. */
  readonly time_s?: number | null;
}

export interface ZeroLevelOptions {
  /**
   * Least noise of a reading, channel's unit; default 10. Also how well the layered response may be
   * trusted: a single reading is never believed better than this and the share together.
   */
  readonly floor?: number;
  /** Noise as a share of the value, %; default 1; 0 is allowed. */
  readonly share_pct?: number;
}

export const zeroLevelDefaults: Required<ZeroLevelOptions> = Object.freeze({
  floor: 10,
  share_pct: 1,
});

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

/** What a channel shows where there is no ground: to be taken off its readings. */
export interface ZeroOffset {
  readonly channel: string;
  readonly offset: number;
  readonly error: number;
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
 * Limits: heights that differ by less than half the coils' separation say little, and the errors say
 * so. A spot with metal or over a slope is no layered ground: see the misfit. A gain that is wrong is
 * not found. Throws StepError with every fault.
 *
 * Source: common practice (height tests); Wait 1982 (response); Schwarz 1978 (criterion).
 *
 * @example
 * zeroLevel([{ height_m: 0.5, values: {} }, { height_m: 1, values: {} }], []).channels.length; // 0
 */
export function zeroLevel(
  readings: readonly HeightReading[],
  channels: readonly Channel[],
  options: ZeroLevelOptions = {},
): ZeroLevel {
  const used = { ...zeroLevelDefaults, ...options };
  const faults = zeroLevelFaults(readings, used);
  if (faults.length > 0) throw new StepError("zeroLevel", faults);
  const tested = channels.filter(({ field }) => heightsOf(readings, field).size > 1);
  const data = dataOf(readings, tested, used);
  const fits = [HALF_SPACES, TWO_LAYERS].map((starts) => fitEarth(data, tested, starts));
  const criterion = fits.map((fit) => fit.cost + fit.earth.length * Math.log(data.length));
  const best = criterion[1]! < criterion[0]! ? fits[1]! : fits[0]!;
  const freedom = Math.max(1, data.length - tested.length - best.earth.length);
  const misfit = Math.sqrt(best.cost / freedom);
  return {
    channels: tested.map(({ field }, c) => {
      return {
        channel: field,
        offset: best.offset[c]!,
        error: best.error[c]! * Math.max(1, misfit),
      };
    }),
    earth: earthOf(best.earth),
    misfit,
  };
}

/** Where the fit starts: ln S/m, and ln m for the upper layer. */
const LEVELS = [-6, -4.5, -3, -1.5];
const HALF_SPACES: readonly LogEarth[] = LEVELS.map((level) => [level]);
const TWO_LAYERS: readonly LogEarth[] = LEVELS.flatMap((top) =>
  LEVELS.flatMap((below) => [-0.4, 0.7].map((thickness) => [top, below, thickness])),
);

function heightsOf(readings: readonly HeightReading[], field: string): ReadonlySet<number> {
  const own = readings.filter(({ values }) => Number.isFinite(values[field]));
  return new Set(own.map(({ height_m }) => height_m));
}

function dataOf(
  readings: readonly HeightReading[],
  channels: readonly Channel[],
  { floor, share_pct }: Required<ZeroLevelOptions>,
): readonly HeightDatum[] {
  return channels.flatMap(({ field }, c) => {
    const own = readings.flatMap(({ height_m, values }) => {
      const value = values[field];
      return value !== undefined && Number.isFinite(value) ? [{ height_m, value }] : [];
    });
    // One size for all heights, as an offset may take a value through 0.
    const size = median(own.map(({ value }) => Math.abs(value)));
    const sd = Math.hypot(floor, (share_pct / 100) * size);
    const heights = [...new Set(own.map(({ height_m }) => height_m))];
    return heights.map((height_m): HeightDatum => {
      const there = own.filter((one) => one.height_m === height_m);
      const value = there.reduce((sum, one) => sum + one.value, 0) / there.length;
      return { c, height_m, value, sd: sd / Math.sqrt(there.length) };
    });
  });
}

export function zeroLevelFaults(
  readings: readonly HeightReading[],
  options: Required<ZeroLevelOptions>,
): readonly Fault[] {
  const faults: Fault[] = [];
  checkNumber(faults, "options.floor", [options.floor, { ...POSITIVE, code: "option-range" }]);
  const share = { ...NOT_NEGATIVE, code: "option-range" };
  checkNumber(faults, "options.share_pct", [options.share_pct, share]);
  faults.push(...unknownOptions(options, zeroLevelDefaults), ...heightFaults(readings, "readings"));
  return faults;
}

/** Faults of the readings of a height test. */
export function heightFaults(readings: unknown, path: string): readonly Fault[] {
  const expected = "readings at two heights at least, each with height_m and values";
  if (!Array.isArray(readings)) {
    return [{ code: "not-a-list", path, expected, received: quoted(readings) }];
  }
  const faults: Fault[] = [];
  for (const [i, one] of readings.entries()) {
    checkNumber(faults, `${path}[${i}].height_m`, [one?.height_m, NOT_NEGATIVE]);
    if (typeof one?.values === "object" && one.values !== null) continue;
    const received = quoted(one?.values);
    const values = "values by channel field";
    faults.push({ code: "no-values", path: `${path}[${i}].values`, expected: values, received });
  }
  if (faults.length > 0) return faults;
  const heights = new Set((readings as readonly HeightReading[]).map(({ height_m }) => height_m));
  if (heights.size > 1) return [];
  return [{ code: "one-height", path, expected, received: `${heights.size} heights` }];
}
