import { itemAt, neighbours } from "../../numerics/arrays.js";
import { cheapest, type GroundFit, GroundFits } from "./ground-fit.js";
import { shapeOf } from "./ground-shape.js";
import { rampTerm } from "./ground-terms.js";
import { leastStep } from "./least-step.js";
import type { TexturedCut } from "./textured-cut.js";

/** What is told of a stretch between two boundaries beside its level. */
export interface Stretch {
  /** By how much each column rises steadily from end to end; null where it is level. */
  readonly rise: readonly number[] | null;
  /** The least step, common to all columns, that would be seen in its middle four times of five. */
  readonly leastStep: number;
}

/** A rise, in a stretch of two shortest blocks and more, is told where it is likelier than none by this, −2 ln likelihood. */
const RISE_PRICE = 9;

/** The stretches of a cut, each tried for a ramp from end to end. */
export function stretchesOf(cut: TexturedCut): readonly Stretch[] {
  const n = cut.fits.line.excess.length;
  const ends = neighbours([0, ...cut.steps.map(({ at }) => at), n]);
  const { fits, fit, ramps } = withRamps(cut, ends);
  const sizes = fits.sizes(fit);
  const slopes = fit.terms.filter((term) => term === 0 || ramps.has(term));
  return ends.map(([from, to]): Stretch => {
    const rise = sizes.map((size) =>
      slopes.reduce((sum, term) => {
        const { column } = itemAt(fits.line.terms, term);
        const [low, high] = [itemAt(column, from), itemAt(column, to - 1)];
        return sum + itemAt(size, 1 + fit.terms.indexOf(term)) * (high - low);
      }, 0),
    );
    const isLevel = rise.every((one) => one === 0);
    const stretch = [from, to] as const;
    return {
      rise: isLevel ? null : rise,
      leastStep: leastStep(cut, { stretch, price: cut.price, minLength: cut.minLength }),
    };
  });
}

/** The cut's fit with the ramps that are worth their price, the worthiest first. */
function withRamps(cut: TexturedCut, ends: readonly (readonly [number, number])[]) {
  const { line } = cut.fits;
  const n = line.excess.length;
  const m = line.terms.length;
  const long = ends.filter(([from, to]) => to - from >= 2 * cut.minLength);
  const ramps = long.map(([from, to]) => rampTerm(n, [from, to - 1], RISE_PRICE));
  const fits = new GroundFits({ ...line, terms: [...line.terms, ...ramps] });
  let fit: GroundFit = fits.best(cut.fit.terms, [cut.fit.at]);
  for (;;) {
    const open = ramps.map((_, k) => m + k).filter((term) => !fit.terms.includes(term));
    if (open.length === 0) break;
    const next = cheapest(open.map((term) => fits.under([...fit.terms, term], fit.at)));
    // Without the wandering that a ramp makes needless.
    const best = fits.best(next.terms);
    if (!(best.cost < fit.cost)) break;
    fit = best;
  }
  return { fits, fit, ramps: new Set(ramps.map((_, k) => m + k)) };
}

/** Standard deviation that the level gains in 100 m by wandering: the middle of the columns. */
export function wanderOf({ fits, fit }: TexturedCut): number {
  const { wander } = shapeOf(fit.at);
  const sorted = [...fit.variance].sort((a, b) => a - b);
  return Math.sqrt(wander * itemAt(sorted, Math.floor(fits.line.columns.length / 2)));
}
