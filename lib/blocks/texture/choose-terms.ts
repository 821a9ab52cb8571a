import { cheapest, type GroundFit, type GroundFits } from "./ground-fit.js";

/** Terms of a line that are worth their price under the shape of its scatter. */
export interface ChosenTerms {
  readonly fit: GroundFit;
  /** By how much the cost is higher without each of the fit's terms. */
  readonly gains: readonly number[];
}

/**
 * The subset of a line's terms with the least cost: by dropping the least worthy from all of them,
 * and by adding the worthiest to none, the shape of the scatter fitted anew each time, so that a
 * level that wanders competes with breaks. Of both the cheaper.
 */
export function chooseTerms(fits: GroundFits): ChosenTerms {
  const all = fits.line.terms.map((_, term) => term);
  const [dropped, added] = [dropping(fits, fits.best(all)), adding(fits, all)];
  let kept = dropping(fits, added.cost < dropped.cost ? added : dropped);
  for (;;) {
    const gains = kept.terms.map((term) => without(fits, kept, term).cost - kept.cost);
    const least = Math.min(...gains);
    if (!(least < 0)) return { fit: kept, gains };
    kept = dropping(fits, without(fits, kept, kept.terms[gains.indexOf(least)] ?? -1));
  }
}

/** The fit without one of its terms, under the shape that suits it then. */
export function without(fits: GroundFits, fit: GroundFit, term: number): GroundFit {
  const left = fit.terms.filter((one) => one !== term);
  const [near, far] = [fits.best(left, [fit.at]), fits.best(left)];
  return near.cost < far.cost ? near : far;
}

function dropping(fits: GroundFits, from: GroundFit): GroundFit {
  let [here, best] = [from, from];
  while (here.terms.length > 0) {
    here = fits.best(fits.cheapestWithout(here), [here.at]);
    if (here.cost < best.cost) best = here;
  }
  return best;
}

function adding(fits: GroundFits, all: readonly number[]): GroundFit {
  let here = fits.best([]);
  for (;;) {
    const { at, terms } = here;
    const open = all.filter((term) => !terms.includes(term));
    if (open.length === 0) return here;
    const next = open.map((term) =>
      fits.under(
        [...terms, term].sort((a, b) => a - b),
        at,
      ),
    );
    const fitted = fits.best(cheapest(next).terms, [at]);
    if (!(fitted.cost < here.cost)) return here;
    here = fitted;
  }
}
