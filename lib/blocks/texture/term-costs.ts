import { passage } from "../../numerics/algebra/state-chain.js";
import { itemAt } from "../../numerics/arrays.js";
import { type FilteredTerm, productOf } from "./filtered-line.js";
import type { GroundFit, GroundFits, UnderShape } from "./ground-fit.js";
import { endOf, type GroundTerm, stepTerm } from "./ground-terms.js";
import { STEP, type StepStates } from "./step-states.js";
import type { ChosenOrder } from "./term-order.js";
import { withColumn } from "./term-products.js";

const LEAST_INFORMATION = 1e-12;

/**
 * Costs of a fit in which one term is another (or of a fit with one more), the shape and the other
 * terms staying.
 */
export class TermCosts {
  private readonly others: ChosenOrder;
  private readonly under: UnderShape;

  constructor(
    private readonly fits: GroundFits,
    private readonly fit: GroundFit,
    term: number | null = null,
  ) {
    this.others = fits.order.chosen(fit.terms.filter((one) => one !== term));
    this.under = fits.filtered(fit.at);
  }

  /** What a term tells of its size beside the others, in units of the scatter. */
  information(term: GroundTerm): number {
    return this.left(term).information;
  }

  /** Cost with a term in the place of the one, up to what all have in common. */
  of(term: GroundTerm): number {
    const { information, columns } = this.left(term);
    const { count, line } = this.fits;
    const { longRun } = this.fits.shape(this.fit.at);
    let total = 0;
    for (const [c, { rest, mark }] of columns.entries()) {
      const left = Math.max(0, rest - mark ** 2 / information);
      const variance = Math.max(left / count, itemAt(line.floor, c) / longRun);
      total += count * Math.log(variance) + left / variance;
    }
    const weight = line.effectiveColumns / line.columns.length;
    return weight * total + line.effectiveColumns * Math.log1p(information);
  }

  /** The same of steps before each of the samples `first` … `last`. */
  ofSteps([first, last]: readonly [number, number]): Float64Array {
    return Float64Array.from({ length: last - first + 1 }, (_, k) =>
      this.of(stepTerm(first + k, 0)),
    );
  }

  /** What the others leave of a term's square, and of its products with d columns. */
  private left(term: GroundTerm) {
    const { line, columns, products } = this.under;
    const own = line.term(term);
    const { left, r, first } = this.fits.left(
      withColumn(products, {
        vector: this.productsWith(own),
        row: Float64Array.from(columns, (column) => productOf(own, column)),
        square: own.square,
      }),
      this.others,
    );
    const row = (r - 1) * r + first;
    return {
      information: Math.max(LEAST_INFORMATION, left[r * r - 1]!),
      columns: Array.from({ length: r - 1 - first }, (_, c) => {
        return { rest: left[(first + c) * (r + 1)]!, mark: left[row + c]! };
      }),
    };
  }

  /** Products with the other terms along the line, by their places; steps may lie within its rise. */
  private productsWith(own: FilteredTerm): Float64Array {
    const { elements } = this.others;
    const { elements: terms } = this.fits.order;
    const vector = new Float64Array(terms.length);
    const before = elements.filter((k) => endOf(itemAt(terms, k)) <= own.from);
    const behind = elements.filter((k) => itemAt(terms, k).from >= own.to && !before.includes(k));
    for (const k of elements) {
      const { texture, gap } = own.entries;
      const at = itemAt(terms, k).from - own.from;
      if (at > 0 && at < own.white.length) vector[k] = STEP[0] * texture[at]! + STEP[1] * gap[at]!;
    }
    this.before(own, before, vector);
    this.behind(own, behind, vector);
    return vector;
  }

  private before(own: FilteredTerm, elements: readonly number[], vector: Float64Array): void {
    const { line, products } = this.under;
    const { exit, across } = products.chain;
    let [x, y] = [own.entries.texture[0]!, own.entries.gap[0]!];
    const step = new Float64Array(4);
    const back = () => {
      [x, y] = [x * step[0]! + y * step[2]!, x * step[1]! + y * step[3]!];
    };
    for (let i = elements.length - 1; i >= 0; i--) {
      const [k, next] = [elements[i]!, elements[i + 1]];
      if (next === undefined) {
        step.set(line.transfer(endOf(itemAt(this.fits.order.elements, k)), own.from));
      } else {
        step.set(across.subarray(4 * next, 4 * next + 4));
        back();
        passage(products.chain, [k, next], step);
      }
      back();
      vector[k] = x * exit[2 * k]! + y * exit[2 * k + 1]!;
    }
  }

  private behind(own: FilteredTerm, elements: readonly number[], vector: Float64Array): void {
    const { line, products } = this.under;
    const { entry, across } = products.chain;
    let states: StepStates = own.exit;
    const step = new Float64Array(4);
    const on = () => {
      const [x, y] = states;
      states = [step[0]! * x + step[1]! * y, step[2]! * x + step[3]! * y];
    };
    for (const [i, k] of elements.entries()) {
      const last = elements[i - 1];
      if (last === undefined) {
        states = line.runOn(states, [own.to, itemAt(this.fits.order.elements, k).from]);
      } else {
        step.set(across.subarray(4 * last, 4 * last + 4));
        on();
        passage(products.chain, [last, k], step);
        on();
      }
      vector[k] = states[0] * entry[2 * k]! + states[1] * entry[2 * k + 1]!;
    }
  }
}
