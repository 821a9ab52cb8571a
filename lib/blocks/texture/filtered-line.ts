import type { GroundShape } from "./ground-shape.js";
import { endOf, type GroundTerm, termAt } from "./ground-terms.js";
import {
  runOn,
  STEP,
  type StateProducts,
  type StateSquares,
  type StepStates,
  stateProducts,
  stateSquares,
} from "./step-states.js";
import {
  filtered,
  type WhiteningFilter,
  type WhiteningLine,
  whiteningFilter,
} from "./whitening-filter.js";

/** A whitened column of n samples. */
export interface FilteredColumn {
  readonly white: Float64Array;
  readonly products: StateProducts;
}

/** A whitened term, known by its rise and the states that it leaves. */
export interface FilteredTerm {
  readonly from: number;
  readonly to: number;
  /** Samples `from` to `to` − 1. */
  readonly white: Float64Array;
  readonly exit: StepStates;
  /** Its products with the states at samples `from` to `to`. */
  readonly entries: StateProducts;
  /** Its product with itself. */
  readonly square: number;
}

/** A line under one shape: its whitening filter, and what its terms give there. */
export class FilteredLine {
  readonly filter: WhiteningFilter;
  private readonly squares: StateSquares;

  constructor(line: WhiteningLine, shape: GroundShape) {
    this.filter = whiteningFilter(line, shape);
    this.squares = stateSquares(this.filter);
  }

  column(values: Float64Array): FilteredColumn {
    const { white } = filtered(this.filter, values);
    return { white, products: stateProducts(this.filter, white) };
  }

  /** A term that others may begin within. */
  broad(term: GroundTerm): FilteredColumn {
    const { length } = this.filter.scale;
    return this.column(Float64Array.from({ length }, (_, i) => termAt(term, i)));
  }

  term(term: GroundTerm): FilteredTerm {
    const { from, rise } = term;
    const to = endOf(term);
    const { white, texture, level } = filtered(this.filter, rise, from);
    const exit: StepStates = rise.length === 0 ? STEP : [texture, 1 - level];
    const behind = this.squaresWith(exit, to);
    const entries = stateProducts(this.filter, white, { from, behind });
    const square = behind[0] * exit[0] + behind[1] * exit[1];
    return {
      ...{ from, to, white, exit, entries },
      square: white.reduce((sum, one) => sum + one * one, square),
    };
  }

  /** The states at sample `to`, those at sample `from` given. */
  runOn(states: StepStates, span: readonly [number, number]): StepStates {
    return runOn(this.filter, states, span);
  }

  /** From the states at sample `from` to those at sample `to`, 2 × 2 row by row. */
  transfer(from: number, to: number): readonly number[] {
    const [texture, gap] = [this.runOn([1, 0], [from, to]), this.runOn(STEP, [from, to])];
    return [texture[0], gap[0], texture[1], gap[1]];
  }

  private squaresWith([texture, gap]: StepStates, at: number): StepStates {
    const { texture: p, both: q, gap: r } = this.squares;
    return [p[at]! * texture + q[at]! * gap, q[at]! * texture + r[at]! * gap];
  }
}

/** The product of a whitened term and a whitened column. */
export function productOf({ from, to, white, exit }: FilteredTerm, column: FilteredColumn): number {
  const { texture, gap } = column.products;
  let sum = exit[0] * texture[to]! + exit[1] * gap[to]!;
  for (const [k, one] of white.entries()) sum += one * column.white[from + k]!;
  return sum;
}
