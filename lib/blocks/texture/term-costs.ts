import { choleskyFactor, forwardSolve } from "../../numerics/algebra/cholesky.js";
import { dot } from "../../numerics/algebra/dot.js";
import { itemAt } from "../../numerics/arrays.js";
import { type GroundFit, type GroundFits, withRidge } from "./ground-fit.js";

/** A whitened impulse is followed over so many samples; it is negligible after them. */
const MEMORY = 300;
const LEAST_INFORMATION = 1e-12;

/**
 * Costs of a fit in which one term is another (or of a fit with one more), the shape and the other
 * terms staying: the latter are projected out once.
 */
export class TermCosts {
  private readonly others: readonly Float64Array[];
  private readonly root: Float64Array;
  private readonly rest: readonly { readonly told: Float64Array; readonly left: number }[];

  constructor(
    private readonly fits: GroundFits,
    private readonly fit: GroundFit,
    private readonly term: number | null = null,
  ) {
    const white = fits.whitened(fit.at);
    const rows = [0, ...fit.terms.filter((one) => one !== term).map((one) => one + 1)];
    const m = rows.length;
    const whole = white.terms.length;
    const normal = Float64Array.from(
      rows.flatMap((i) =>
        rows.map((j) => {
          const product = white.normal[i * whole + j]!;
          return i === j ? withRidge(product) : product;
        }),
      ),
    );
    this.others = rows.map((row) => itemAt(white.terms, row));
    this.root = choleskyFactor(normal, m);
    this.rest = white.columns.map(({ right, square }) => {
      const side = Float64Array.from(rows, (row) => right[row]!);
      const told = forwardSolve(this.root, m, side);
      return { told, left: told.reduce((sum, one) => sum - one * one, square) };
    });
  }

  /** What a term tells of its size beside the others, in units of the scatter. */
  information(column: Float64Array, from: number): number {
    const white = this.fits.whitened(this.fit.at).whitening.apply(column, from);
    return this.beside(this.products(white));
  }

  /** Cost with a term of n samples in the place of the one, up to what all have in common. */
  of(column: Float64Array, from: number): number {
    return this.at(this.products(this.fits.whitened(this.fit.at).whitening.apply(column, from)));
  }

  /** The same of steps before each of the samples `first` … `last`, the term's own among them. */
  ofSteps(own: number, [first, last]: readonly [number, number]): Float64Array {
    const white = this.fits.whitened(this.fit.at);
    const costs = new Float64Array(last - first + 1);
    for (const way of [-1, 1]) {
      const x = itemAt(white.terms, (this.term ?? -1) + 1).slice();
      const products = this.products(x);
      costs[own - first] = this.at(products);
      for (let at = own + way; at >= first && at <= last; at += way) {
        this.move(x, products, { sample: way < 0 ? at : at - 1, sign: -way });
        costs[at - first] = this.at(products);
      }
    }
    return costs;
  }

  private products(x: Float64Array): TermProducts {
    const { columns } = this.fits.whitened(this.fit.at);
    return {
      own: dot(x, x),
      others: Float64Array.from(this.others, (one) => dot(x, one)),
      columns: Float64Array.from(columns, ({ white }) => dot(x, white)),
    };
  }

  /** One sample more or less after the step: a whitened impulse is added. */
  private move(
    x: Float64Array,
    products: TermProducts,
    { sample, sign }: { readonly sample: number; readonly sign: number },
  ): void {
    const { whitening, columns } = this.fits.whitened(this.fit.at);
    const end = Math.min(x.length, sample + MEMORY);
    const impulse = whitening.impulse(sample, end);
    const along = (one: Float64Array) => {
      let sum = 0;
      for (let i = sample; i < end; i++) sum += impulse[i - sample]! * one[i]!;
      return sum;
    };
    const square = dot(impulse, impulse);
    products.own += 2 * sign * along(x) + square;
    for (const [j, one] of this.others.entries()) products.others[j]! += sign * along(one);
    for (const [c, { white }] of columns.entries()) products.columns[c]! += sign * along(white);
    for (let i = sample; i < end; i++) x[i]! += sign * impulse[i - sample]!;
  }

  private beside({ own, others }: TermProducts): number {
    const told = forwardSolve(this.root, others.length, others);
    return Math.max(LEAST_INFORMATION, own - dot(told, told));
  }

  private at({ own, others, columns }: TermProducts): number {
    const { count, line } = this.fits;
    const { longRun } = this.fits.whitened(this.fit.at);
    const told = forwardSolve(this.root, others.length, others);
    const information = Math.max(LEAST_INFORMATION, own - dot(told, told));
    let total = 0;
    for (const [c, rest] of this.rest.entries()) {
      const mark = columns[c]! - dot(told, rest.told);
      const left = Math.max(0, rest.left - mark ** 2 / information);
      const variance = Math.max(left / count, itemAt(line.floor, c) / longRun);
      total += count * Math.log(variance) + left / variance;
    }
    const weight = line.effectiveColumns / line.columns.length;
    return weight * total + line.effectiveColumns * Math.log1p(information);
  }
}

interface TermProducts {
  own: number;
  readonly others: Float64Array;
  readonly columns: Float64Array;
}
