import { chainMatrix, eliminate } from "../../numerics/algebra/state-chain.js";
import { itemAt } from "../../numerics/arrays.js";
import type { ChosenOrder } from "./term-order.js";
import { type TermProducts, withRidge } from "./term-products.js";

/** Products of the columns that the chosen terms leave, d × d. */
export function leftOf(products: TermProducts, { elements, broad }: ChosenOrder): Float64Array {
  const { chain, ridged, vectors, between } = products;
  const columns = [...vectors.keys()].slice(products.broad);
  const rows = [...broad, ...columns];
  const told = eliminate(chain, {
    chosen: elements,
    diagonal: ridged,
    vectors: rows.map((row) => itemAt(vectors, row)),
  }).products;
  const r = rows.length;
  const left = told.map((one, k) => {
    const [i, j] = [itemAt(rows, Math.floor(k / r)), itemAt(rows, k % r)];
    const own = between[i * vectors.length + j]!;
    return (i === j && i < products.broad ? withRidge(own) : own) - one;
  });
  for (let b = 0; b < broad.length; b++) eliminateRow(left, r, b);
  const d = columns.length;
  return Float64Array.from({ length: d * d }, (_, k) => {
    return left[(broad.length + Math.floor(k / d)) * r + broad.length + (k % d)]!;
  });
}

/** ln det of the terms' products + 1, over the level's square: ln(1 + information) of all together. */
export function determinantOf(products: TermProducts, { elements, broad }: ChosenOrder): number {
  const { chain, ridged, sized, vectors, between } = products;
  const r = broad.length;
  const { logDeterminant, products: told } = eliminate(chain, {
    chosen: elements,
    diagonal: sized,
    vectors: broad.map((row) => itemAt(vectors, row)),
  });
  const left = told.map((one, k) => {
    const [i, j] = [itemAt(broad, Math.floor(k / r)), itemAt(broad, k % r)];
    return between[i * vectors.length + j]! + (i === j ? 1 : 0) - one;
  });
  let sum = logDeterminant - Math.log(ridged[0]!);
  for (let b = 0; b < r; b++) {
    sum += Math.log(left[b * r + b]!);
    eliminateRow(left, r, b);
  }
  return sum;
}

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
