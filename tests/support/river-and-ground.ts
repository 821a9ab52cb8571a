import { seededRandom } from "../../lib/numerics/random.js";
import type { WaterLevel } from "../../lib/survey/survey.js";
import { makeCampaigns } from "./campaign-pairs.js";

const DAY_S = 86400;

/** A river of five waves of 25 to 110 days, a reading a day from January 2031 for six years. */
function river(seed: number): WaterLevel[] {
  const random = seededRandom(seed);
  const waves = Array.from({ length: 5 }, (_, w) => ({
    days: 25 * 1.45 ** w,
    phase: 2 * Math.PI * random.uniform(),
  }));
  const at = (day: number) =>
    waves.reduce((sum, { days, phase }) => sum + Math.sin((2 * Math.PI * day) / days + phase), 0);
  return Array.from({ length: 6 * 365 }, (_, day) => ({
    time_s: Date.UTC(2031, 0, 1) / 1000 + day * DAY_S,
    point: "river",
    level_m: 1.5 + 0.6 * at(day),
    chainage_m: null,
  }));
}

const levelAt = (levels: readonly WaterLevel[], time_s: number) =>
  levels.reduce((best, one) =>
    Math.abs(one.time_s - time_s) < Math.abs(best.time_s - time_s) ? one : best,
  ).level_m;

interface Wend {
  readonly seed: number;
  readonly campaigns: number;
  /** log10 a metre between 400 and 450 m in the two shallow slices. */
  readonly response?: number;
  readonly lag_days?: number;
}

/** Campaigns over ground that follows an invented river, or does not. */
export function alongWend({ seed, campaigns, response = 0, lag_days = 0 }: Wend) {
  const waterLevels = river(seed);
  const time = (c: number) => Date.UTC(2031, 3 + 6 * c, 6, 9) / 1000;
  const change = (x: number, k: number, c: number) =>
    k < 2 && x >= 400 && x <= 450
      ? response * (levelAt(waterLevels, time(c) - lag_days * DAY_S) - 1.5)
      : 0;
  return { slices: makeCampaigns({ seed, campaigns, change }).slices, survey: { waterLevels } };
}
