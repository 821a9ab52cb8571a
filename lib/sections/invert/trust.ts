import type { Inverted } from "./gauss-newton.js";
import {
  effectiveParameters,
  type GaussianPosterior,
  gaussianPosterior,
  priorPrecision,
  solvePosterior,
} from "./gaussian-posterior.js";
import { linearised, type Residuals } from "./linearised.js";
import {
  faceWeights,
  looserPrior,
  rightSide,
  type SectionDraw,
  type SectionPrior,
} from "./sampler.js";

/** Each cell is drawn to the reference with a standard deviation of a factor of ten. */
const REFERENCE_PRECISION = 1 / Math.LN10 ** 2;

/**
 * The share of a reference resistivity that shows through in each cell: the difference of two
 * inversions over that of their references (Oldenburg & Li 1999), in the linear form.
 */
export function referenceShare(
  { form }: Inverted,
  prior: SectionPrior,
  strengths: SectionDraw,
): Float64Array {
  const pull = new Float64Array(form.at.length).fill(REFERENCE_PRECISION);
  const precision = priorPrecision(prior.graph, faceWeights(prior, strengths), pull);
  const { directions } = form;
  return solvePosterior(gaussianPosterior(precision, { directions, noise: strengths.noise }), pull);
}

/** The posterior under given strengths. */
function posteriorOf(
  directions: Float64Array,
  prior: SectionPrior,
  strengths: SectionDraw,
): GaussianPosterior {
  return gaussianPosterior(
    priorPrecision(prior.graph, faceWeights(prior, strengths), prior.anchor),
    { directions, noise: strengths.noise },
  );
}

/** Numbers that the readings decide: the trace of the resolution matrix. */
export function resolvedNumbers(
  { form }: Inverted,
  prior: SectionPrior,
  strengths: SectionDraw,
): number {
  return effectiveParameters(posteriorOf(form.directions, prior, strengths));
}

/** Summed squared answers of the readings to each cell, over their variances. */
export function cellSensitivity({ residuals: { jacobian, weight } }: Inverted): Float64Array {
  const n = weight.length;
  return Float64Array.from({ length: jacobian.length / n }, (_, c) =>
    weight.reduce((sum, share, i) => sum + share * jacobian[c * n + i]! ** 2, 0),
  );
}

const EVERY = 10;

/**
 * Misfit (root mean square over standard deviations) of every tenth reading, predicted from a
 * section of the others, in the linear form; 1 where the error model holds. `readings`: how many
 * of the residuals are readings' (ties follow).
 */
export function leftOutMisfit(
  { form, residuals }: Inverted,
  prior: SectionPrior,
  { strengths, readings }: { readonly strengths: SectionDraw; readonly readings: number },
): number {
  const isOut = (n: number) => n < readings && n % EVERY === EVERY / 2;
  const weight = residuals.weight.map((value, n) => (isOut(n) ? 0 : value));
  const others = linearised(form.at, { ...residuals, weight }, looserPrior(prior, strengths));
  const posterior = posteriorOf(others.directions, prior, strengths);
  const section = solvePosterior(posterior, rightSide(others, prior, strengths.noise));
  return (
    misfitOfLeftOut(residuals, { isOut, away: section.map((x, c) => x - form.at[c]!) }) /
    Math.sqrt(strengths.noise)
  );
}

function misfitOfLeftOut(
  { residual, weight, jacobian }: Residuals,
  { isOut, away }: { readonly isOut: (n: number) => boolean; readonly away: Float64Array },
): number {
  const n = residual.length;
  let [sum, count] = [0, 0];
  residual.forEach((value, i) => {
    if (!isOut(i)) return;
    const moved = away.reduce((total, x, c) => total + jacobian[c * n + i]! * x, 0);
    sum += weight[i]! * (value - moved) ** 2;
    count += 1;
  });
  return count === 0 ? Number.NaN : Math.sqrt(sum / count);
}
