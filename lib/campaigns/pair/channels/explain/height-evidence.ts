import {
  choleskyFactor,
  choleskyLogDeterminant,
  choleskySolve,
  forwardSolve,
} from "../../../../numerics/algebra/cholesky.js";
import { dot } from "../../../../numerics/algebra/dot.js";
import type { OffsetEvidence } from "./offset-evidence.js";
import type { StretchData } from "./stretch-data.js";

/** The difference and what heights make of it. */
type HeightData = Pick<StretchData, "value" | "covariance" | "first" | "second" | "pass">;

export interface HeightPrior {
  readonly passes: number;
  /** Standard deviation of a height that differs, m; default 0.1. */
  readonly sd_m?: number;
}

const HEIGHT_SD_M = 0.1;
const LOWEST_M = -0.3;
const HIGHEST_M = 0.5;
const ROUNDS = 8;

/**
 * Heights of the walks as the cause of a stretch's difference: the best ones under a normal prior,
 * and the log evidence over no difference by Laplace's approximation.
 */
export function heightEvidence(
  data: HeightData,
  { passes, sd_m = HEIGHT_SD_M }: HeightPrior,
): OffsetEvidence {
  const p = data.value.length;
  const factor = choleskyFactor(data.covariance, p);
  let value = new Float64Array(passes);
  let precision = new Float64Array();
  for (let round = 0; round < ROUNDS; round++) {
    const step = newtonStep(data, { factor, sd_m }, value);
    precision = step.precision;
    value = value.map((h, w) => Math.max(LOWEST_M, Math.min(HIGHEST_M, h + step.move[w]!)));
  }
  const white = forwardSolve(factor, p, heightResponse(data, value));
  const y = forwardSolve(factor, p, data.value);
  const gain = white.reduce((sum, w, a) => sum + w * (y[a]! - w / 2), 0);
  const prior = value.reduce((sum, h) => sum + (h / sd_m) ** 2, 0) / 2;
  const root = choleskyFactor(precision, passes);
  const volume = -passes * Math.log(sd_m) - choleskyLogDeterminant(root, passes) / 2;
  return { evidence: gain - prior + volume, value };
}

/** One step of Gauss-Newton and the posterior precision of the heights. */
function newtonStep(
  data: HeightData,
  { factor, sd_m }: { readonly factor: Float64Array; readonly sd_m: number },
  value: Float64Array,
) {
  const [p, passes] = [data.value.length, value.length];
  const derivative = data.first.map((one, a) => one + 2 * value[data.pass[a]!]! * data.second[a]!);
  const response = heightResponse(data, value);
  const left = data.value.map((v, a) => v - response[a]!);
  const columns = Array.from(value, (_, w) =>
    choleskySolve(
      factor,
      p,
      derivative.map((v, a) => (data.pass[a] === w ? v : 0)),
    ),
  );
  const right = Float64Array.from(value, (h, w) => dot(columns[w]!, left) - h / sd_m ** 2);
  const precision = new Float64Array(passes * passes);
  for (const [w, column] of columns.entries()) {
    for (let a = 0; a < p; a++)
      precision[w * passes + data.pass[a]!]! += column[a]! * derivative[a]!;
    precision[w * passes + w]! += 1 / sd_m ** 2;
  }
  return { precision, move: choleskySolve(choleskyFactor(precision, passes), passes, right) };
}

const heightResponse = (data: HeightData, value: Float64Array) =>
  data.value.map((_, a) => {
    const h = value[data.pass[a]!]!;
    return h * data.first[a]! + h * h * data.second[a]!;
  });
