import { itemAt } from "../../numerics/arrays.js";
import { chooseTerms, without } from "./choose-terms.js";
import { cheapest, type GroundFit, GroundFits, type GroundLine } from "./ground-fit.js";
import { bestRamp, narrowRamps, placeCosts, type Ramp } from "./ground-places.js";
import { slopeTerm, stepTerm } from "./ground-terms.js";

/** A step of the ground's level, and how sure it is. */
export interface GroundStep {
  /** The first sample after it. */
  readonly at: number;
  /** Probability that there is one, and not a ramp, a wandering level or nothing. */
  readonly probability: number;
  /** The samples `first`, `first` + 1, … that it may stand before, given that there is one. */
  readonly first: number;
  readonly places: Float64Array;
  /** By how much the cost is higher without it, its price left out. */
  readonly worth: number;
}

export interface GroundCut {
  /** Steps likelier than `LEAST_PROBABILITY`, and those that are less. */
  readonly steps: readonly GroundStep[];
  readonly doubtful: readonly GroundStep[];
  readonly fits: GroundFits;
  readonly fit: GroundFit;
}

export interface GroundCutOptions {
  readonly minLength: number;
  /** What a step's place costs, −2 ln likelihood. */
  readonly price: number;
}

/** A step less probable than this is no boundary. */
export const LEAST_PROBABILITY = 0.7;
/** What any cut costs beside its steps: a bank may have none, and its level may wander. */
export const CUT_PRICE = 8;
const ROUNDS = 4;
/** The first term is a slope of the whole line. */
const SLOPE = 0;

/**
 * The steps in a line whose level may also tend, ramp or wander, and whose scatter has a texture of
 * unknown reach: those of the candidates, moved to their best places, that are worth their price.
 */
export function groundCut(
  line: Omit<GroundLine, "terms">,
  candidates: readonly number[],
  options: GroundCutOptions,
): GroundCut {
  const n = line.excess.length;
  const slope = slopeTerm(n);
  let at = candidates;
  for (let round = 1; ; round++) {
    const terms = [slope, ...at.map((one) => stepTerm(one, options.price))];
    const fits = new GroundFits({ ...line, terms });
    const { fit } = chooseTerms(fits);
    const kept = stepsOf(fit);
    const before = kept.map((term) => itemAt(terms, term).from);
    at = kept.map((term) => bestPlace(fits, fit, { term, ...options }));
    if (at.join() === before.join() || round === ROUNDS) return judged(fits, fit, options);
  }
}

export const stepsOf = ({ terms }: GroundFit) => terms.filter((term) => term !== SLOPE);

interface OneTerm extends GroundCutOptions {
  readonly term: number;
}

function bestPlace(fits: GroundFits, fit: GroundFit, one: OneTerm): number {
  const { first, costs } = placeCosts(fits, fit, one);
  return first + costs.indexOf(Math.min(...costs));
}

function judged(fits: GroundFits, fit: GroundFit, options: GroundCutOptions): GroundCut {
  const plain = cheapest([fits.best([]), fits.best([SLOPE])]);
  const cut = odds(fit.cost + CUT_PRICE - plain.cost);
  const steps = stepsOf(fit).map((term): GroundStep => {
    const at = itemAt(fits.line.terms, term).from;
    const { first, costs } = placeCosts(fits, fit, { term, ...options });
    const here = itemAt(costs, at - first);
    const narrow = narrowRamps(fits, fit, { term, ...options });
    const least = Math.min(...costs, ...narrow.map(({ cost }) => cost));
    const weights = costs.map((cost) => Math.exp((least - cost) / 2));
    for (const ramp of narrow) spread(weights, ramp, { first, least, count: narrow.length });
    const total = weights.reduce((sum, one) => sum + one, 0);
    const step = fit.cost + least - here - 2 * Math.log(total);
    const none = without(fits, fit, term).cost;
    const ramp = fit.cost + bestRamp(fits, fit, { term, ...options }) - here;
    const others = odds(step - none) + odds(step - ramp);
    return {
      at,
      probability: 1 / (1 + others) / (1 + cut),
      first,
      places: weights.map((one) => one / total),
      worth: Math.max(0, none - fit.cost + options.price),
    };
  });
  const isSure = ({ probability }: GroundStep) => probability >= LEAST_PROBABILITY;
  const doubtful = steps.filter((step) => !isSure(step));
  return { steps: steps.filter(isSure), doubtful, fits, fit };
}

interface Spread {
  readonly first: number;
  readonly least: number;
  readonly count: number;
}

/**
 * Adds a transition's weight to the places about its middle, all transitions together counting as
 * much before the data as a step at one place.
 */
function spread(weights: Float64Array, ramp: Ramp, { first, least, count }: Spread) {
  const { middle, apart, cost } = ramp;
  const near = Array.from(weights.keys()).filter(
    (k) => Math.abs(first + k - middle) <= Math.max(0.5, apart / 2),
  );
  const share = Math.exp((least - cost) / 2) / count / Math.max(1, near.length);
  for (const k of near) weights[k]! += share;
}

/** Odds of what costs so much less. */
const odds = (cost: number) => Math.exp(cost / 2);
