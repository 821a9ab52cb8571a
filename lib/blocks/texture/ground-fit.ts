import { choleskyFactor, choleskySolve } from "../../numerics/algebra/cholesky.js";
import { itemAt } from "../../numerics/arrays.js";
import { type FilteredColumn, FilteredLine } from "./filtered-line.js";
import { longRunFactor, nextShapes, SHAPE_STARTS, type ShapeAt, shapeOf } from "./ground-shape.js";
import { type GroundTerm, termAt } from "./ground-terms.js";
import { type LeftProducts, TermElimination, termMatrix } from "./term-elimination.js";
import { type ChosenOrder, type TermOrder, termOrder } from "./term-order.js";
import { type TermProducts, termProducts } from "./term-products.js";
import type { WhiteningLine } from "./whitening-filter.js";

/** A line with the terms that its level may have, to be fitted under any shape. */
export interface GroundLine extends WhiteningLine {
  /** d columns of n samples; NaN where missing. */
  readonly columns: readonly Float64Array[];
  /** The columns tell as much as so many unrelated ones. */
  readonly effectiveColumns: number;
  /** Least long-run variance of each column. */
  readonly floor: readonly number[];
  /** m terms: steps, ramps. */
  readonly terms: readonly GroundTerm[];
}

/** A subset of the terms under one shape. */
export interface GroundFit {
  readonly terms: readonly number[];
  readonly at: ShapeAt;
  /** −2 ln likelihood and what the terms' sizes and places cost. */
  readonly cost: number;
  /** d variances of noise and texture together. */
  readonly variance: readonly number[];
}

/** A line under one shape, with its broad terms and its columns whitened. */
export interface UnderShape {
  readonly line: FilteredLine;
  /** b broad terms, then d columns. */
  readonly columns: readonly FilteredColumn[];
  readonly products: TermProducts;
}

/** Fits subsets of a line's terms; what a shape needs is worked out once. */
export class GroundFits {
  readonly count: number;
  readonly order: TermOrder;
  private readonly elimination: TermElimination;
  private readonly known = new Map<string, KnownShape>();
  private last: (UnderShape & { readonly key: string }) | null = null;

  constructor(readonly line: GroundLine) {
    this.count = line.excess.filter((one) => !Number.isNaN(one)).length;
    this.order = termOrder(line.terms);
    const { elements, broad } = this.order;
    this.elimination = new TermElimination(elements.length, broad.length + line.columns.length + 1);
  }

  /** The subset under the shape that suits it best, as found by steps from where they start. */
  best(terms: readonly number[], starts: readonly ShapeAt[] = SHAPE_STARTS): GroundFit {
    const tried = new Map<string, GroundFit>();
    const fit = (at: ShapeAt) => {
      const own = tried.get(at.join()) ?? this.under(terms, at);
      tried.set(at.join(), own);
      return own;
    };
    return cheapest(starts.map((start) => downhill(fit, start)));
  }

  /** −2 ln likelihood, the variances at their best, and ln(1 + information) of the terms. */
  under(terms: readonly number[], at: ShapeAt): GroundFit {
    const chosen = this.order.chosen(terms);
    const known = this.shape(at);
    const { left, r, first } = this.elimination.leftOf(known.products, chosen);
    const { columns } = this.line;
    const rests = columns.map((_, c) => left[(first + c) * (r + 1)]!);
    const size = this.elimination.determinantOf(known.products, chosen);
    return { terms, at, ...this.costOf(rests, { known, size, prices: this.prices(terms) }) };
  }

  /** The terms of which one less is cheapest, the shape staying. */
  cheapestWithout({ terms, at }: Pick<GroundFit, "terms" | "at">): readonly number[] {
    const chosen = this.order.chosen(terms);
    const known = this.shape(at);
    const d = this.line.columns.length;
    const { rests, determinants } = this.elimination.without(known.products, chosen);
    const rows = this.order.rows(chosen);
    const costs = terms.map((term) => {
      const i = rows.indexOf(term + 1);
      const left = terms.filter((one) => one !== term);
      if (i >= chosen.elements.length) return this.under(left, at).cost;
      const prices = this.prices(terms) - itemAt(this.line.terms, term).price;
      const squares = [...rests.subarray(i * d, (i + 1) * d)];
      return this.costOf(squares, { known, size: determinants[i]!, prices }).cost;
    });
    const least = costs.indexOf(Math.min(...costs));
    return terms.filter((_, k) => k !== least);
  }

  private prices(terms: readonly number[]): number {
    return terms.reduce((sum, term) => sum + itemAt(this.line.terms, term).price, 0);
  }

  /** `rests`: squares that are left of d columns. */
  private costOf(
    rests: readonly number[],
    { known, size, prices }: Costing,
  ): Pick<GroundFit, "cost" | "variance"> {
    const { floor, columns, effectiveColumns } = this.line;
    let total = 0;
    const variance = rests.map((square, c) => {
      const rest = Math.max(0, square);
      const own = Math.max(rest / this.count, itemAt(floor, c) / known.longRun);
      total += this.count * Math.log(own) + rest / own + known.logDeterminant;
      return own;
    });
    const cost = (effectiveColumns / columns.length) * total + effectiveColumns * size + prices;
    return { cost, variance };
  }

  /** Sizes of level and terms, one list a column. */
  sizes({ terms, at }: GroundFit): readonly Float64Array[] {
    const chosen = this.order.chosen(terms);
    const { matrix, rights } = termMatrix(this.shape(at).products, chosen);
    const rows = this.order.rows(chosen);
    const places = [0, ...terms.map((term) => term + 1)].map((row) => rows.indexOf(row));
    const root = choleskyFactor(matrix, rows.length);
    return rights.map((right) => {
      const found = choleskySolve(root, rows.length, right);
      return Float64Array.from(places, (place) => found[place]!);
    });
  }

  /** d columns without the fitted terms. */
  residuals(fit: GroundFit): readonly Float64Array[] {
    const sizes = this.sizes(fit);
    return this.line.columns.map((column, c) => {
      const own = itemAt(sizes, c);
      const left = column.map((value) => value - own[0]!);
      for (const [k, term] of fit.terms.entries()) {
        const one = itemAt(this.line.terms, term);
        for (let i = one.from; i < left.length; i++) left[i]! -= own[k + 1]! * termAt(one, i);
      }
      return left;
    });
  }

  /** What terms leave of the products of columns and of one more column. */
  left(products: TermProducts, chosen: ChosenOrder): LeftProducts {
    return this.elimination.leftOf(products, chosen);
  }

  /** What a shape makes of all terms; what it makes of the samples is kept of the last one only. */
  shape(at: ShapeAt): KnownShape {
    const key = at.join();
    const known = this.known.get(key);
    if (known !== undefined) return known;
    const { line, products } = this.filtered(at);
    const longRun = longRunFactor(shapeOf(at), this.line.spacing_m);
    const made = { products, longRun, logDeterminant: line.filter.logDeterminant };
    this.known.set(key, made);
    return made;
  }

  /** The samples under a shape. */
  filtered(at: ShapeAt): UnderShape {
    const key = at.join();
    if (this.last?.key === key) return this.last;
    const line = new FilteredLine(this.line, shapeOf(at));
    const columns = [
      ...this.order.broad.map((term) => line.broad(term)),
      ...this.line.columns.map((column) => line.column(column)),
    ];
    const products = this.known.get(key)?.products ?? termProducts(line, this.order, columns);
    this.last = { key, line, columns, products };
    return this.last;
  }
}

interface KnownShape {
  readonly products: TermProducts;
  /** Long-run variance over that of a sample. */
  readonly longRun: number;
  readonly logDeterminant: number;
}

interface Costing {
  readonly known: KnownShape;
  /** ln(1 + information) of the terms, and what their places cost. */
  readonly size: number;
  readonly prices: number;
}

export const cheapest = (fits: readonly GroundFit[]): GroundFit =>
  fits.reduce((one, other) => (other.cost < one.cost ? other : one));

function downhill(under: (at: ShapeAt) => GroundFit, start: ShapeAt): GroundFit {
  let here = under(start);
  for (;;) {
    const next = cheapest(nextShapes(here.at).map(under));
    if (!(next.cost < here.cost)) return here;
    here = next;
  }
}
