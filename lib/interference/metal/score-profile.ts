import { fitNoise, type NoiseModel } from "../../numerics/statistics/level-noise.js";
import { median } from "../../numerics/statistics/robust.js";
import { backgroundOf } from "../anomaly/background.js";
import { cubeRootScore } from "../anomaly/cube-root-score.js";
import { groundCovariance } from "../anomaly/ground-covariance.js";
import { type LineProfile, longestSeparation } from "../anomaly/line-profiles.js";
import { type ReadingAnomaly, readingAnomaly } from "../anomaly/reading-anomaly.js";
import { widened } from "../anomaly/reading-run.js";
import { METAL_FIT, type MetalMatch, matchMetal } from "./match-metal.js";

/** How far each reading of a line is from anything that layered ground could do there. */
export interface ScoredProfile extends ScoredAnomalies {
  readonly profile: LineProfile;
  /** For each channel, its noise. */
  readonly noise: readonly NoiseModel[];
  /** False where the channels are too few to tell metal from ground by their proportions. */
  readonly complete: boolean;
  /** n readings' anomalies, each of c channels, before averaging. */
  readonly anomalies: readonly ReadingAnomaly[];
  /** How well a small piece of metal at each reading explains its surroundings. */
  readonly match: MetalMatch;
}

interface ScoredAnomalies {
  /** n scores: standard normal on undisturbed ground; NaN without enough readings. */
  readonly score: Float64Array;
  /** n shares of the anomaly that no ground explains, 0 to 1. */
  readonly share: Float64Array;
  /** For each channel, n anomalies in standard errors, single or averaged, as scored. */
  readonly anomaly: readonly Float64Array[];
  /** The same, without what a change of the ground explains. */
  readonly residual: readonly Float64Array[];
}

/**
 * Each reading is set against the levels before and after it, the mixture of the two taken that
 * suits it best, so that an edge of the ground is no anomaly. What remains, in units of the noise,
 * is weighed against the covariance of noise and ordinary ground together: eᵀ (I + G)⁻¹ e is small
 * where ground explains the anomaly. For single readings, and for their averages over a separation
 * of the coils, it is scaled to the median of the line and becomes a standard normal score by the
 * cube root (Wilson & Hilferty 1931); the higher of the two counts, and the matched filter's where
 * it fits.
 */
export function scoreProfile(profile: LineProfile, window_m: number): ScoredProfile {
  const noise = profile.values.map(fitNoise);
  const covariance = groundCovariance(profile);
  const channels = profile.values.map((values, c) => ({
    values,
    noise: noise[c]!,
    background: backgroundOf(profile.chainage_m, values, window_m),
  }));
  const anomalies = Array.from(profile.rows, (_, i) => readingAnomaly(channels, covariance, i));
  const freedom = median(anomalies.map((one) => one.freedom));
  const complete = freedom >= Math.max(1, channels.length / 4);
  const match = matchMetal(profile, anomalies);
  const single = averaged(profile, anomalies, 0);
  const { score, ...columns } = stronger(
    single,
    averaged(profile, anomalies, 0.75 * longestSeparation(profile)),
  );
  const highest = score.map((one, i) =>
    match.fit[i]! >= METAL_FIT && match.score[i]! > one ? match.score[i]! : one,
  );
  return { profile, noise, complete, anomalies, match, score: highest, ...columns };
}

/** The anomalies averaged over the readings within `half_m` on each side. */
function averaged(
  { chainage_m, channels }: LineProfile,
  anomalies: readonly ReadingAnomaly[],
  half_m: number,
): ScoredAnomalies {
  const n = anomalies.length;
  const columns = () => channels.map(() => new Float64Array(n).fill(Number.NaN));
  const [anomaly, residual] = [columns(), columns()];
  const [squares, share] = [new Float64Array(n), new Float64Array(n)];
  for (let i = 0; i < n; i++) {
    const { first, last } = widened(chainage_m, { first: i, last: i }, half_m);
    const near = anomalies.slice(first, last + 1);
    let [whole, rest] = [0, 0];
    for (let c = 0; c < channels.length; c++) {
      const mean = meansInErrors(near, c);
      anomaly[c]![i] = mean.anomaly;
      residual[c]![i] = mean.residual;
      whole += mean.anomaly ** 2 || 0;
      rest += mean.whitened ** 2 || 0;
    }
    squares[i] = rest;
    share[i] = whole > 0 ? Math.min(1, rest / whole) : 0;
  }
  const freedom = Float64Array.from(anomalies, (one) => one.freedom);
  return { score: normalScore(squares, freedom), share, anomaly, residual };
}

/** For each reading the one of two that scores more. */
function stronger(one: ScoredAnomalies, other: ScoredAnomalies): ScoredAnomalies {
  const take = Array.from(one.score, (score, i) => !(other.score[i]! > score));
  const pick = (a: Float64Array, b: Float64Array) => a.map((value, i) => (take[i] ? value : b[i]!));
  return {
    score: pick(one.score, other.score),
    share: pick(one.share, other.share),
    anomaly: one.anomaly.map((column, c) => pick(column, other.anomaly[c]!)),
    residual: one.residual.map((column, c) => pick(column, other.residual[c]!)),
  };
}

/** Means of neighbours over their standard errors; NaN where none has the channel. */
function meansInErrors(near: readonly ReadingAnomaly[], c: number) {
  let [anomaly, residual, whitened, count] = [0, 0, 0, 0];
  for (const one of near) {
    if (one.present[c] === 0) continue;
    anomaly += one.anomaly[c]!;
    residual += one.residual[c]!;
    whitened += one.whitened[c]!;
    count++;
  }
  const errors = count > 0 ? Math.sqrt(count) : Number.NaN;
  return { anomaly: anomaly / errors, residual: residual / errors, whitened: whitened / errors };
}

/**
 * Cube root of a mean square, scaled to the median of the line. Where ground explains all but a part of
 * one channel (few channels), what is left is still one number: below one degree of freedom the cube root
 * would take every reading of the line for far off.
 */
function normalScore(squares: Float64Array, freedom: Float64Array): Float64Array {
  const ratio = squares.map((square, i) => (freedom[i]! > 0 ? square / freedom[i]! : Number.NaN));
  const degrees = freedom.map((one) => Math.max(1, one));
  const relative = ratio.map((value, i) => value / (1 - 2 / (9 * degrees[i]!)) ** 3);
  const scale = median(relative);
  const divisor = scale > 0 ? scale : 1;
  return ratio.map((value, i) => cubeRootScore(value / divisor, degrees[i]!));
}
