import {
  choleskyFactor,
  choleskyLogDeterminant,
  choleskySolve,
  forwardSolve,
} from "../../../../numerics/algebra/cholesky.js";
import { dot } from "../../../../numerics/algebra/dot.js";
import type { OffsetEvidence } from "./offset-evidence.js";
import type { StretchData } from "./stretch-data.js";

/** Prior standard deviation of a zero that differs, ppm. */
const ZERO_SD_PPM = 25;

/** Zeros of the channels are independent and normal: so is the difference they make. */
export function zeroEvidence(
  { value, covariance, ppm, index }: StretchData,
  channels: number,
): OffsetEvidence {
  const p = value.length;
  const wide = covariance.map((v, at) =>
    at % (p + 1) === 0 ? v + (ZERO_SD_PPM * ppm[at % p]!) ** 2 : v,
  );
  const [narrowFactor, wideFactor] = [choleskyFactor(covariance, p), choleskyFactor(wide, p)];
  const length = (factor: Float64Array) => {
    const white = forwardSolve(factor, p, value);
    return dot(white, white) + choleskyLogDeterminant(factor, p);
  };
  const solved = choleskySolve(wideFactor, p, value);
  const zeros = new Float64Array(channels);
  for (const [a, c] of index.entries()) zeros[c] = ZERO_SD_PPM ** 2 * ppm[a]! * solved[a]!;
  return { evidence: (length(narrowFactor) - length(wideFactor)) / 2, value: zeros };
}
