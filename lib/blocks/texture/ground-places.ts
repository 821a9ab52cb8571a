import { itemAt } from "../../numerics/arrays.js";
import type { GroundFit, GroundFits } from "./ground-fit.js";
import { rampTerm } from "./ground-terms.js";
import { TermCosts } from "./term-costs.js";

interface OneTerm {
  readonly term: number;
  readonly minLength: number;
}

/** Costs of a step at the samples about its own, a shortest block away from the next steps. */
export function placeCosts(
  fits: GroundFits,
  fit: GroundFit,
  { term, minLength }: OneTerm,
): { readonly first: number; readonly costs: Float64Array } {
  const n = fits.line.excess.length;
  const fromOf = (one: number) => itemAt(fits.line.terms, one).from;
  const own = fromOf(term);
  const others = fit.terms
    .filter((one) => one !== term && !itemAt(fits.line.terms, one).isBroad)
    .map(fromOf);
  const before = Math.max(0, ...others.filter((one) => one < own));
  const after = Math.min(n, ...others.filter((one) => one > own));
  const first = Math.min(own, Math.max(before + minLength, own - minLength));
  const last = Math.max(own, Math.min(after - minLength, own + minLength));
  return { first, costs: new TermCosts(fits, fit, term).ofSteps([first, last]) };
}

/** A change of level over some samples, and its cost on the scale of `placeCosts`. */
export interface Ramp {
  readonly middle: number;
  /** The next ramps of its width have their middles so far away. */
  readonly apart: number;
  readonly cost: number;
}

/** Ramps that are tried in a step's place: widths in shortest blocks, middles in widths. */
const WIDTHS = [1, 2, 4];
/** Narrower ones are a boundary that is no line: a joint between two makes has a length. */
const NARROW = [0.125, 0.25, 0.5];
const APART = 0.2;
const MIDDLES = [-0.4, -0.2, 0, 0.2, 0.4];

/** The cost of a ramp in the place of a step, on the scale of `placeCosts`, averaged over ramps. */
export function bestRamp(fits: GroundFits, fit: GroundFit, one: OneTerm): number {
  const all = rampsOf(fits, fit, { ...one, widths: WIDTHS }).map(({ cost }) => cost);
  const least = Math.min(...all);
  const sum = all.reduce((total, cost) => total + Math.exp((least - cost) / 2), 0);
  return least - 2 * Math.log(sum / all.length);
}

/** Transitions in the place of a step that are shorter than any block could be. */
export function narrowRamps(fits: GroundFits, fit: GroundFit, one: OneTerm): readonly Ramp[] {
  return rampsOf(fits, fit, { ...one, widths: NARROW });
}

function rampsOf(
  fits: GroundFits,
  fit: GroundFit,
  { term, minLength, widths }: OneTerm & { readonly widths: readonly number[] },
): readonly Ramp[] {
  const n = fits.line.excess.length;
  const own = itemAt(fits.line.terms, term).from;
  const costs = new TermCosts(fits, fit, term);
  return widths.flatMap((blocks) =>
    MIDDLES.map((off): Ramp => {
      const width = blocks * minLength;
      const middle = own + off * width;
      const ramp = rampTerm(n, [middle - width / 2, middle + width / 2], 0);
      return { middle, apart: APART * width, cost: costs.of(ramp) };
    }),
  );
}
