import { itemAt, valueAt } from "../../numerics/arrays.js";
import { noiseAt } from "../../numerics/statistics/level-noise.js";
import { median } from "../../numerics/statistics/robust.js";
import { cubeRootScore } from "../anomaly/cube-root-score.js";
import { distanceFromGround, groundCatalogue, LEAST_FREEDOM } from "../anomaly/nearest-ground.js";
import { type ReadingRun, widened } from "../anomaly/reading-run.js";
import type { ScoredProfile } from "./score-profile.js";

/** How far the levels beside a run are looked for, m. */
const BESIDE_M = 16;
/** How well coils, their height and the layered response are known, as a share of the value. */
const MODEL_ERROR = 0.01;
/** Noise of such a level, over that of one reading. */
const LEVEL_NOISE = 1 / 3;

/**
 * How far the readings of a run themselves, about any one of them, lie from every layered ground: a
 * standard normal score where ground explains them, however much it differs from its surroundings.
 * What the levels beside the run show beyond ground, such as zero levels, is taken off. NaN where
 * the channels are too few to judge by.
 */
export function layeredScore(scored: ScoredProfile, run: ReadingRun): number {
  const { values } = scored.profile;
  const common = beyondGround(scored, run);
  const at = (i: number) => {
    const level = Float64Array.from(values, (column, c) => valueAt(column, i) - valueAt(common, c));
    return distanceOf(scored, level, 1).distance;
  };
  let [square, freedom] = [0, 0];
  for (let i = run.first; i <= run.last; i++) {
    const found = at(i);
    square += found?.square ?? 0;
    freedom += found?.freedom ?? 0;
  }
  const enough = freedom >= LEAST_FREEDOM * (run.last - run.first + 1);
  return enough ? cubeRootScore(square / freedom, freedom) : Number.NaN;
}

/** Of levels whose noise is a share of a single reading's. */
function distanceOf({ profile, noise }: ScoredProfile, level: Float64Array, share: number) {
  const error = level.map((value, c) =>
    Math.hypot(share * noiseAt(itemAt(noise, c), value), MODEL_ERROR * value),
  );
  const catalogue = groundCatalogue(profile);
  return { error, distance: distanceFromGround(catalogue, { level, error }) };
}

/** By channel, the mean of what the levels on either side of a run have beyond any ground. */
function beyondGround(scored: ScoredProfile, run: ReadingRun): Float64Array {
  const { chainage_m, values } = scored.profile;
  const wide = widened(chainage_m, run, BESIDE_M);
  const sides = [
    values.map((column) => column.subarray(wide.first, run.first)),
    values.map((column) => column.subarray(run.last + 1, wide.last + 1)),
  ];
  const beyond = sides.flatMap((side) => {
    const level = Float64Array.from(side, (column) => median(column));
    const { error, distance } = distanceOf(scored, level, LEVEL_NOISE);
    return distance === null ? [] : [distance.residual.map((one, c) => one * error[c]! || 0)];
  });
  return Float64Array.from(values, (_, c) =>
    beyond.reduce((sum, one) => sum + valueAt(one, c) / beyond.length, 0),
  );
}
