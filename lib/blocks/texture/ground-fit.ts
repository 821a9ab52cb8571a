import {
  choleskyFactor,
  choleskyLogDeterminant,
  choleskySolve,
  forwardSolve,
} from "../../numerics/algebra/cholesky.js";
import { dot } from "../../numerics/algebra/dot.js";
import { itemAt } from "../../numerics/arrays.js";
import { longRunFactor, nextShapes, SHAPE_STARTS, type ShapeAt, shapeOf } from "./ground-shape.js";
import { type Whitening, type WhiteningLine, whitening } from "./whiten.js";

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

export interface GroundTerm {
  /** n samples. */
  readonly column: Float64Array;
  /** Its first sample other than 0. */
  readonly from: number;
  /** What its place costs beside its size, −2 ln likelihood. */
  readonly price: number;
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

/** The whitened level and terms under one shape, and their products. */
export interface Whitened {
  /** Long-run variance over that of a sample. */
  readonly longRun: number;
  readonly whitening: Whitening;
  readonly terms: readonly Float64Array[];
  /** (1 + m)² of the level and the terms. */
  readonly normal: Float64Array;
  readonly columns: readonly {
    readonly white: Float64Array;
    /** Its products with level and terms. */
    readonly right: Float64Array;
    readonly square: number;
  }[];
}

/** Keeps the matrix invertible where a term is as good as another. */
const RIDGE = 1e-10;

/** A term's square as a pivot: a term that no sample shows, as in a gap, has none and takes nothing. */
export const withRidge = (square: number) => (square === 0 ? 1 : square * (1 + RIDGE));

/** Fits subsets of a line's terms; what a shape needs is worked out once. */
export class GroundFits {
  readonly count: number;
  private readonly known = new Map<string, Whitened>();

  constructor(readonly line: GroundLine) {
    this.count = line.excess.filter((one) => !Number.isNaN(one)).length;
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
    const { root, sides, size, white } = this.solved(terms, at);
    const { floor, columns, effectiveColumns } = this.line;
    let total = 0;
    const variance = sides.map(({ side, square }, c) => {
      const told = forwardSolve(root, side.length, side);
      const rest = told.reduce((sum, one) => sum - one * one, square);
      const left = Math.max(0, rest);
      const own = Math.max(left / this.count, itemAt(floor, c) / white.longRun);
      total += this.count * Math.log(own) + left / own + white.whitening.logDeterminant;
      return own;
    });
    const places = terms.reduce((sum, term) => sum + itemAt(this.line.terms, term).price, 0);
    const cost = (effectiveColumns / columns.length) * total + effectiveColumns * size + places;
    return { terms, at, cost, variance };
  }

  /** Sizes of level and terms, one list a column. */
  sizes({ terms, at }: GroundFit): readonly Float64Array[] {
    const { root, sides } = this.solved(terms, at);
    return sides.map(({ side }) => choleskySolve(root, side.length, side));
  }

  /** d columns without the fitted terms. */
  residuals(fit: GroundFit): readonly Float64Array[] {
    const sizes = this.sizes(fit);
    return this.line.columns.map((column, c) => {
      const own = itemAt(sizes, c);
      const left = column.map((value) => value - own[0]!);
      for (const [k, term] of fit.terms.entries()) {
        const { column: one, from } = itemAt(this.line.terms, term);
        for (let i = from; i < left.length; i++) left[i]! -= own[k + 1]! * one[i]!;
      }
      return left;
    });
  }

  whitened(at: ShapeAt): Whitened {
    const key = at.join();
    const made = this.known.get(key) ?? whitenedOf(this.line, at);
    this.known.set(key, made);
    return made;
  }

  private solved(terms: readonly number[], at: ShapeAt) {
    const white = this.whitened(at);
    const rows = [0, ...terms.map((term) => term + 1)];
    const [m, whole] = [rows.length, white.terms.length];
    const own = new Float64Array(m * m);
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < m; j++) own[i * m + j] = white.normal[rows[i]! * whole + rows[j]!]!;
    }
    const sized = own.slice();
    for (let i = 0; i < m; i++) {
      own[i * m + i] = withRidge(own[i * m + i]!);
      if (i > 0) sized[i * m + i]! += 1;
    }
    const sides = white.columns.map(({ right, square }) => {
      return { side: Float64Array.from(rows, (row) => right[row]!), square };
    });
    const size = choleskyLogDeterminant(choleskyFactor(sized, m), m) - Math.log(own[0]!);
    return { root: choleskyFactor(own, m), sides, size, white };
  }
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

function whitenedOf(line: GroundLine, at: ShapeAt): Whitened {
  const white = whitening(line, shapeOf(at));
  const level = { column: new Float64Array(line.excess.length).fill(1), from: 0 };
  const all = [level, ...line.terms];
  const terms = all.map(({ column, from }) => white.apply(column, from));
  const m = terms.length;
  const normal = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    const row = productsWith(itemAt(terms, i), terms.slice(0, i + 1), itemAt(all, i).from);
    for (const [j, product] of row.entries()) {
      normal[i * m + j] = product;
      normal[j * m + i] = product;
    }
  }
  const columns = line.columns.map((column) => {
    const own = white.apply(column);
    return { white: own, right: productsWith(own, terms, 0), square: dot(own, own) };
  });
  const longRun = longRunFactor(shapeOf(at), line.spacing_m);
  return { longRun, whitening: white, terms, normal, columns };
}

/** Products of a column, 0 before sample `from`, with m others; four at once keep a processor busy. */
function productsWith(
  one: Float64Array,
  others: readonly Float64Array[],
  from: number,
): Float64Array {
  const products = new Float64Array(others.length);
  for (let j = 0; j < others.length; j += 4) {
    const a = itemAt(others, j);
    const [b = a, c = a, d = a] = others.slice(j + 1, j + 4);
    let [ofA, ofB, ofC, ofD] = [0, 0, 0, 0];
    for (let i = from; i < one.length; i++) {
      const own = one[i]!;
      ofA += own * a[i]!;
      ofB += own * b[i]!;
      ofC += own * c[i]!;
      ofD += own * d[i]!;
    }
    products.set([ofA, ofB, ofC, ofD].slice(0, others.length - j), j);
  }
  return products;
}
