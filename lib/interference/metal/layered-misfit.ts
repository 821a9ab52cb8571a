import { itemAt, valueAt } from "../../numerics/arrays.js";
import { noiseAt } from "../../numerics/statistics/level-noise.js";
import { presentMean } from "../../numerics/statistics/present.js";
import { median } from "../../numerics/statistics/robust.js";
import { cubeRootScore } from "../anomaly/cube-root-score.js";
import {
  distanceFromGround,
  groundCatalogue,
  LEAST_FREEDOM,
  MODEL_ERROR,
} from "../anomaly/nearest-ground.js";
import { type ReadingRun, widened } from "../anomaly/reading-run.js";
import type { ScoredProfile } from "./score-profile.js";

/** How far the levels beside a run are looked for, m. */
const BESIDE_M = 16;
/** Noise of such a level, over that of one reading. */
const LEVEL_NOISE = 1 / 3;

/** How far readings lie from every layered ground. */
export interface LayeredMisfit {
  /** Standard normal where ground explains them, however much it differs from its surroundings. */
  readonly score: number;
  /**
   * What ground does not explain of the worst reading, root mean square, in noises of readings beside
   * the run: those of the readings themselves grow with what distorts them.
   */
  readonly noises: number;
}

/**
 * Of the readings of a run themselves, less what the levels beside it show beyond ground, such as
 * zero levels; NaN where the channels are too few to judge by.
 */
export function layeredMisfit(scored: ScoredProfile, run: ReadingRun): LayeredMisfit {
  const { values } = scored.profile;
  const { usual, beyond } = beside(scored, run);
  let [square, freedom, worst] = [0, 0, 0];
  for (let i = run.first; i <= run.last; i++) {
    const level = Float64Array.from(values, (column, c) => valueAt(column, i) - valueAt(beyond, c));
    const found = distanceOf(scored, level, errorOf(scored, level));
    const inUsual = distanceOf(scored, level, errorOf(scored, usual));
    square += found?.square ?? 0;
    freedom += found?.freedom ?? 0;
    if (inUsual !== null) worst = Math.max(worst, inUsual.square / inUsual.freedom);
  }
  const enough = freedom >= LEAST_FREEDOM * (run.last - run.first + 1);
  if (!enough) return { score: Number.NaN, noises: Number.NaN };
  return { score: cubeRootScore(square / freedom, freedom), noises: Math.sqrt(worst) };
}

const distanceOf = ({ profile }: ScoredProfile, level: Float64Array, error: Float64Array) =>
  distanceFromGround(groundCatalogue(profile), { level, error });

/** Of c levels whose noise is a share of a single reading's. */
function errorOf({ noise }: ScoredProfile, level: Float64Array, share = 1): Float64Array {
  return level.map((value, c) =>
    Math.hypot(share * noiseAt(itemAt(noise, c), value), MODEL_ERROR * value),
  );
}

/** By channel, the mean level on either side of a run, and the mean of what they have beyond ground. */
function beside(scored: ScoredProfile, run: ReadingRun) {
  const { chainage_m, values } = scored.profile;
  const wide = widened(chainage_m, run, BESIDE_M);
  const levels = [
    values.map((column) => median(column.subarray(wide.first, run.first))),
    values.map((column) => median(column.subarray(run.last + 1, wide.last + 1))),
  ].map((level) => Float64Array.from(level));
  const beyond = levels.flatMap((level) => {
    const error = errorOf(scored, level, LEVEL_NOISE);
    const distance = distanceOf(scored, level, error);
    return distance === null ? [] : [distance.residual.map((one, c) => one * error[c]! || 0)];
  });
  return { usual: meanOf(levels, values.length), beyond: meanOf(beyond, values.length) };
}

/** By channel; 0 where there is nothing. */
function meanOf(rows: readonly Float64Array[], count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, c) => {
    return presentMean(rows.map((row) => valueAt(row, c))) || 0;
  });
}
