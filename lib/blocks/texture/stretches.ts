import { itemAt, neighbours } from "../../numerics/arrays.js";
import { stepsOf } from "./ground-cut.js";
import { cheapest, type GroundFit, GroundFits } from "./ground-fit.js";
import { SHAPE_STARTS, shapeOf } from "./ground-shape.js";
import { broad, rampTerm } from "./ground-terms.js";
import { leastStep } from "./least-step.js";
import type { TexturedCut } from "./textured-cut.js";

/** What is told of a stretch between two boundaries beside its level. */
export interface Stretch {
  /** By how much each column rises steadily from end to end; null where it is level. */
  readonly rise: readonly number[] | null;
  /** The least step, common to all columns, that would be seen in its middle four times of five. */
  readonly leastStep: number;
}

/** What is told of the ground between boundaries. */
export interface StretchesTold {
  readonly stretches: readonly Stretch[];
  /** Standard deviation that the level gains in 100 m by wandering: the middle of the columns. */
  readonly wander: number;
}

/**
 * A steady rise, in a stretch of two shortest blocks and more, is likelier than a level that
 * wanders by this, −2 ln likelihood of one column: the columns wander together, so that they count
 * as one.
 */
const RISE_PRICE = 9;

/** The stretches of a cut, each tried for a ramp from end to end. */
export function stretchesOf(cut: TexturedCut): StretchesTold {
  const n = cut.fits.line.excess.length;
  const ends = neighbours([0, ...cut.steps.map(({ at }) => at), n]);
  const { fits, fit, rampOf } = withRamps(cut, ends);
  const sizes = fits.sizes(fit);
  const stretches = ends.map((stretch, k): Stretch => {
    const at = fit.terms.indexOf(rampOf.get(k) ?? -1);
    return {
      rise: at < 0 ? null : sizes.map((size) => itemAt(size, 1 + at)),
      leastStep: leastStep(cut, { stretch, price: cut.price, minLength: cut.minLength }),
    };
  });
  return { stretches, wander: wanderOf(fits, fit) };
}

/** The cut's steps with the ramps that are worth their price, the worthiest first. */
function withRamps(cut: TexturedCut, ends: readonly (readonly [number, number])[]) {
  const { line } = cut.fits;
  const n = line.excess.length;
  const steps = stepsOf(cut.fit).map((term) => itemAt(line.terms, term));
  const m = steps.length;
  const long = [...ends.keys()].filter((k) => lengthOf(itemAt(ends, k)) >= 2 * cut.minLength);
  const price = RISE_PRICE * line.effectiveColumns;
  const ramps = long.map((k) => {
    const [from, to] = itemAt(ends, k);
    const ramp = rampTerm(n, [from, to - 1], price);
    return steps.some((step) => step.from > from && step.from < to) ? broad(ramp) : ramp;
  });
  const fits = new GroundFits({ ...line, terms: [...steps, ...ramps] });
  let fit: GroundFit = fits.best([...steps.keys()]);
  for (;;) {
    const open = ramps.map((_, k) => m + k).filter((term) => !fit.terms.includes(term));
    if (open.length === 0) break;
    const next = cheapest(open.map((term) => fits.best([...fit.terms, term], [fit.at, STEADY])));
    if (!(next.cost < fit.cost)) break;
    fit = next;
  }
  return { fits, fit, rampOf: new Map(long.map((k, r) => [k, m + r])) };
}

const lengthOf = ([from, to]: readonly [number, number]) => to - from;

/** Where a search for a shape without wandering begins. */
const STEADY = itemAt(SHAPE_STARTS, 0);

function wanderOf({ line }: GroundFits, { at, variance }: GroundFit): number {
  const sorted = [...variance].sort((a, b) => a - b);
  return Math.sqrt(shapeOf(at).wander * itemAt(sorted, Math.floor(line.columns.length / 2)));
}
