import { dot } from "../../numerics/algebra/dot.js";
import type { StateChain } from "../../numerics/algebra/state-chain.js";
import { itemAt } from "../../numerics/arrays.js";
import { type FilteredColumn, type FilteredLine, productOf } from "./filtered-line.js";
import { endOf } from "./ground-terms.js";
import type { TermOrder } from "./term-order.js";

/** What of a line's whitened terms and columns a fit needs: their products. */
export interface TermProducts {
  /** The level and the terms along the line, m in all. */
  readonly chain: StateChain;
  /** Their squares as pivots. */
  readonly ridged: Float64Array;
  /** The level's square, and those of the terms + 1. */
  readonly sized: Float64Array;
  /** Products of b broad terms, then d columns, with them: m each. */
  readonly vectors: readonly Float64Array[];
  /** Products of these with each other, (b + d)². */
  readonly between: Float64Array;
  /** b. */
  readonly broad: number;
}

/** Keeps a matrix invertible where a term is as good as another. */
const RIDGE = 1e-10;

/** A term's square as a pivot: a term that no sample shows, as in a gap, has none and takes nothing. */
export const withRidge = (square: number) => (square === 0 ? 1 : square * (1 + RIDGE));

/** @param columns b broad terms, then d columns. */
export function termProducts(
  line: FilteredLine,
  order: TermOrder,
  columns: readonly FilteredColumn[],
): TermProducts {
  const terms = order.elements.map((term) => line.term(term));
  const r = columns.length;
  return {
    chain: {
      entry: Float64Array.from(
        terms.flatMap(({ entries }) => [entries.texture[0]!, entries.gap[0]!]),
      ),
      exit: Float64Array.from(terms.flatMap(({ exit }) => exit)),
      ...passages(line, order),
    },
    ridged: Float64Array.from(terms, ({ square }) => withRidge(square)),
    sized: Float64Array.from(terms, ({ square }, k) => (k === 0 ? square : square + 1)),
    vectors: columns.map((column) => Float64Array.from(terms, (term) => productOf(term, column))),
    between: Float64Array.from({ length: r * r }, (_, k) =>
      dot(itemAt(columns, Math.floor(k / r)).white, itemAt(columns, k % r).white),
    ),
    broad: order.broad.length,
  };
}

/** One more column, after the others: its products with m terms, with b + d columns and with itself. */
export function withColumn(
  { vectors, between, ...rest }: TermProducts,
  { vector, row, square }: ColumnProducts,
): TermProducts {
  const r = vectors.length;
  const more = Float64Array.from({ length: (r + 1) ** 2 }, (_, k) => {
    const [i, j] = [Math.floor(k / (r + 1)), k % (r + 1)];
    if (i === r) return j === r ? square : row[j]!;
    return j === r ? row[i]! : between[i * r + j]!;
  });
  return { ...rest, vectors: [...vectors, vector], between: more };
}

export interface ColumnProducts {
  readonly vector: Float64Array;
  readonly row: Float64Array;
  readonly square: number;
}

function passages(
  line: FilteredLine,
  { elements }: TermOrder,
): Pick<StateChain, "after" | "across"> {
  const [after, across] = [
    new Float64Array(4 * elements.length),
    new Float64Array(4 * elements.length),
  ];
  for (const [k, term] of elements.entries()) {
    const next = elements[k + 1];
    across.set(line.transfer(term.from, endOf(term)), 4 * k);
    if (next !== undefined) after.set(line.transfer(endOf(term), next.from), 4 * k);
  }
  return { after, across };
}
