import { CUT_PRICE, type GroundCut, LEAST_PROBABILITY } from "./ground-cut.js";
import { type GroundFit, GroundFits } from "./ground-fit.js";
import { broad, rampTerm, stepTerm } from "./ground-terms.js";
import { TermCosts } from "./term-costs.js";

/** A step is seen four times of five where it lies so many standard deviations above the limit. */
const POWER_80 = 0.8416;
/**
 * Wandering levels and textures of other reach take what they can of a step before it is one: by so
 * much it has to be larger than under the shape that the line has without it. Told from lines with
 * steps put in (`tests/blocks/textured-ground.calibration.test.ts`).
 */
const OTHER_SHAPES = 1.25;

export interface LeastStepOptions {
  /** First sample of the stretch, and the first after it. */
  readonly stretch: readonly [number, number];
  /** What a step costs beside its size. */
  readonly price: number;
  readonly minLength: number;
}

/**
 * The least step, common to all columns, that would be found in the middle of a stretch in about
 * four lines of five; in the columns' unit. It has to be worth its price beside a slope of the
 * whole line, and to be told from a ramp.
 */
export function leastStep(cut: GroundCut, options: LeastStepOptions): number {
  const { line } = cut.fits;
  const { stretch, price, minLength } = options;
  const n = line.excess.length;
  const middle = Math.round((stretch[0] + stretch[1]) / 2);
  const ramp = rampTerm(n, [middle - minLength, middle + minLength], 0);
  const fits = new GroundFits({ ...line, terms: [...line.terms, broad(ramp)] });
  const sloped = [...new Set([0, ...cut.fit.terms])];
  const step = stepTerm(middle, 0);
  const informationBeside = (terms: readonly number[]) => {
    const fit: GroundFit = { ...cut.fit, terms };
    return new TermCosts(fits, fit).information(step);
  };
  const beside = informationBeside(sloped);
  const besideRamp = informationBeside([...sloped, line.terms.length]);
  const { effectiveColumns } = line;
  const weight = effectiveColumns / line.columns.length;
  const perSquare = cut.fit.variance.reduce((sum, one) => sum + weight / one, 0);
  const sure = 2 * Math.log(LEAST_PROBABILITY / (1 - LEAST_PROBABILITY));
  const first = cut.steps.length === 0 ? CUT_PRICE : 0;
  const worth = price + first + effectiveColumns * Math.log1p(beside);
  const size = (needed: number, information: number) =>
    (Math.sqrt(needed) + POWER_80) / Math.sqrt(perSquare * information);
  return OTHER_SHAPES * Math.max(size(worth + sure, beside), size(sure, besideRamp));
}
