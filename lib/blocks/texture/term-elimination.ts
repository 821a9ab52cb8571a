import { ChainElimination, chainMatrix } from "../../numerics/algebra/state-chain.js";
import { itemAt } from "../../numerics/arrays.js";
import type { ChosenOrder } from "./term-order.js";
import { type TermProducts, withRidge } from "./term-products.js";

/** What chosen terms leave of the products of r columns with each other; written over by the next. */
export interface LeftProducts {
  /** r × r: rows of eliminated broad terms, then of the columns. */
  readonly left: Float64Array;
  readonly r: number;
  /** The row of the first column. */
  readonly first: number;
}

/** Each of the chosen terms along the line left out by itself, the level too. */
export interface LeftWithout {
  /** k × d squares that are left of the columns. */
  readonly rests: Float64Array;
  /** k of what `determinantOf` gives. */
  readonly determinants: Float64Array;
}

/** Projects chosen terms out of columns, in time that grows as the number of terms. */
export class TermElimination {
  private readonly chain: ChainElimination;
  private readonly left: Float64Array;

  /** For so many terms along the line, and broad terms and columns together, at the most. */
  constructor(elements: number, columns: number) {
    this.chain = new ChainElimination(elements, columns);
    this.left = new Float64Array(columns * columns);
  }

  leftOf(products: TermProducts, { elements, broad }: ChosenOrder): LeftProducts {
    const { chain, ridged: diagonal } = products;
    const rows = [...broad, ...columnsOf(products)];
    this.chain.run(chain, { chosen: elements, diagonal, vectors: vectorsOf(products, rows) });
    this.border(products, { rows, broad, pivot: withRidge });
    return { left: this.left, r: rows.length, first: broad.length };
  }

  /** ln det of the terms' products + 1, over the level's square: ln(1 + information) of all together. */
  determinantOf(products: TermProducts, { elements, broad }: ChosenOrder): number {
    const { chain, ridged, sized: diagonal } = products;
    this.chain.run(chain, { chosen: elements, diagonal, vectors: vectorsOf(products, broad) });
    this.border(products, { rows: broad, broad, pivot: withOne });
    const r = broad.length;
    let sum = this.chain.logDeterminant - Math.log(ridged[0]!);
    for (let b = 0; b < r; b++) sum += Math.log(this.left[b * r + b]!);
    return sum;
  }

  /** A term that is left out gives back the square of its size over its part of the inverse. */
  without(products: TermProducts, chosen: ChosenOrder): LeftWithout {
    const { chain, ridged, sized } = products;
    const { elements, broad } = chosen;
    const [k, d, first] = [elements.length, columnsOf(products).length, broad.length];
    const { left, r } = this.leftOf(products, chosen);
    const vectors = vectorsOf(products, [...broad, ...columnsOf(products)]);
    this.chain.invert(chain, { chosen: elements, diagonal: ridged, vectors });
    const rests = new Float64Array(k * d);
    const size = new Float64Array(r);
    for (let i = 0; i < k; i++) {
      const inverse = this.inverse(i, { r, first, size });
      for (let c = 0; c < d; c++) {
        const rest = left[(first + c) * (r + 1)]!;
        rests[i * d + c] = rest + size[first + c]! ** 2 / inverse;
      }
    }
    const whole = this.determinantOf(products, chosen);
    const borders = vectorsOf(products, broad);
    this.chain.invert(chain, { chosen: elements, diagonal: sized, vectors: borders });
    const determinants = Float64Array.from(elements, (_, i) => {
      return whole + Math.log(this.inverse(i, { r: first, first, size }));
    });
    return { rests, determinants };
  }

  /** An element's diagonal entry of the inverse with broad terms beside it; fills its sizes. */
  private inverse(i: number, { r, first, size }: Sizes): number {
    const { left, chain } = this;
    let inverse = chain.inverse[i]!;
    for (let k = 0; k < r; k++) size[k] = chain.solved[i * r + k]!;
    for (let b = 0; b < first; b++) {
      const pivot = left[b * r + b]!;
      const own = size[b]!;
      inverse += own ** 2 / pivot;
      for (let k = b + 1; k < r; k++) size[k]! -= (own * left[b * r + k]!) / pivot;
    }
    return inverse;
  }

  /** What the terms along the line leave of some rows' products, and then of that the broad ones. */
  private border({ vectors, between }: TermProducts, { rows, broad, pivot }: Border): void {
    const { left, chain } = this;
    const r = rows.length;
    for (let i = 0; i < r; i++) {
      for (let j = 0; j < r; j++) {
        const own = between[rows[i]! * vectors.length + rows[j]!]!;
        const product = i === j && i < broad.length ? pivot(own) : own;
        left[i * r + j] = product - chain.products[i * r + j]!;
      }
    }
    for (let b = 0; b < broad.length; b++) eliminateRow(left, r, b);
  }
}

interface Sizes {
  readonly r: number;
  readonly first: number;
  readonly size: Float64Array;
}

interface Border {
  readonly rows: readonly number[];
  /** The first ones of them. */
  readonly broad: readonly number[];
  readonly pivot: (square: number) => number;
}

const withOne = (square: number) => square + 1;

const columnsOf = ({ vectors, broad }: TermProducts) => [...vectors.keys()].slice(broad);

const vectorsOf = ({ vectors }: TermProducts, rows: readonly number[]) =>
  rows.map((row) => itemAt(vectors, row));

/** The matrix of the chosen terms as a whole, and their products with d columns. */
export function termMatrix(products: TermProducts, { elements, broad }: ChosenOrder) {
  const { chain, ridged, vectors, between } = products;
  const [m, b] = [elements.length, broad.length];
  const own = chainMatrix(chain, { chosen: elements, diagonal: ridged });
  const matrix = new Float64Array((m + b) ** 2);
  for (let i = 0; i < m; i++) matrix.set(own.subarray(i * m, (i + 1) * m), i * (m + b));
  for (const [k, row] of broad.entries()) {
    for (const [i, at] of elements.entries()) {
      matrix[(m + k) * (m + b) + i] = vectors[row]![at]!;
    }
    for (const [l, other] of broad.entries()) {
      const product = between[row * vectors.length + other]!;
      matrix[(m + k) * (m + b) + m + l] = k === l ? withRidge(product) : product;
    }
  }
  const rights = vectors.slice(products.broad).map((vector, c) => {
    const ofBroad = broad.map((row) => between[row * vectors.length + products.broad + c]!);
    return Float64Array.from([...elements.map((at) => vector[at]!), ...ofBroad]);
  });
  return { matrix, rights };
}

function eliminateRow(left: Float64Array, r: number, row: number): void {
  const pivot = left[row * r + row]!;
  for (let i = row + 1; i < r; i++) {
    const share = left[i * r + row]! / pivot;
    for (let j = row + 1; j < r; j++) left[i * r + j]! -= share * left[row * r + j]!;
  }
}
