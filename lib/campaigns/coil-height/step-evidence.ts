import {
  choleskyFactor,
  choleskyLogDeterminant,
  forwardSolve,
} from "../../numerics/algebra/cholesky.js";
import { dot } from "../../numerics/algebra/dot.js";
import { itemAt } from "../../numerics/arrays.js";
import { heightEvidence } from "../pair/channels/explain/height-evidence.js";
import { logSum } from "../pair/channels/ratio/profile-likelihood.js";
import type { PlaceResponse } from "./place-response.js";

/** A step of p channels, as shares of their readings, and what it may be off by. */
export interface ChannelStep {
  readonly value: Float64Array;
  /** p × p. */
  readonly covariance: Float64Array;
  /** p numbers of walks. */
  readonly walk: readonly number[];
}

export interface ExplainedByHeight {
  /** Log evidence of coils at another height over that of other ground. */
  readonly overGround: number;
  /** By walk, m: higher after the place than before it. */
  readonly height_m: Float64Array;
}

/** How far coils are carried from the height that is stated, standard deviation, m. */
const HEIGHT_SD_M = 0.15;

/** One height for all walks, or one for each, against other ground. */
export function explainedByHeight(step: ChannelStep, response: PlaceResponse): ExplainedByHeight {
  const { first, second } = response;
  const walks = Math.max(...step.walk) + 1;
  const common = Int32Array.from(step.walk, () => 0);
  const ways = walks > 1 ? [common, Int32Array.from(step.walk)] : [common];
  const tried = ways.map((pass) =>
    heightEvidence(
      { ...step, first, second, pass },
      { passes: pass === common ? 1 : walks, sd_m: HEIGHT_SD_M },
    ),
  );
  const best = tried.reduce((one, other) => (other.evidence > one.evidence ? other : one));
  const none = logDensity(step.value, step.covariance);
  const overGround = best.evidence + none - groundEvidence(step, response);
  return { overGround, height_m: best.value };
}

/** Standard deviations of ln conductivity between two makes of ground, each as likely. */
const GROUND_SD = [0.15, 0.3, 0.6, 1.2];
/** Steps of layers are alike over such ln depths, each as likely. */
const ALIKE = [0.4, 1.2, 5];
/** The surface in ln depth, m. */
const TOP_M = 0.1;

/** Log evidence of ground whose layers step as normal variables that are alike over depth. */
function groundEvidence(step: ChannelStep, { byLayer, top_m }: PlaceResponse): number {
  const depth = top_m.map((top, j) => Math.log(TOP_M + (top + (top_m[j + 1] ?? 1.5 * top)) / 2));
  const logs = ALIKE.flatMap((range) => {
    const ground = groundCovariance(byLayer, depth, range);
    return GROUND_SD.map((sd) => {
      const covariance = step.covariance.map((one, at) => one + sd ** 2 * itemAt(ground, at));
      return logDensity(step.value, covariance);
    });
  });
  return logSum(logs) - Math.log(logs.length);
}

/** p × p covariance of the channels over layers of unit variance. */
function groundCovariance(
  byLayer: readonly Float64Array[],
  depth: Float64Array,
  range: number,
): Float64Array {
  const p = byLayer.length;
  const spread = byLayer.map((row) =>
    depth.map((z) =>
      row.reduce((sum, one, j) => sum + one * Math.exp(-Math.abs(z - itemAt(depth, j)) / range), 0),
    ),
  );
  return new Float64Array(p * p).map((_, at) =>
    dot(itemAt(byLayer, Math.floor(at / p)), itemAt(spread, at % p)),
  );
}

/** ln of the normal density at a value, without its constant. */
function logDensity(value: Float64Array, covariance: Float64Array): number {
  const factor = choleskyFactor(covariance, value.length);
  const white = forwardSolve(factor, value.length, value);
  return -(dot(white, white) + choleskyLogDeterminant(factor, value.length)) / 2;
}
