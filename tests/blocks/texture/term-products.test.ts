import { describe, it } from "vitest";
import { FilteredLine } from "../../../lib/blocks/texture/filtered-line.js";
import { GroundFits } from "../../../lib/blocks/texture/ground-fit.js";
import { type ShapeAt, shapeOf } from "../../../lib/blocks/texture/ground-shape.js";
import {
  broad,
  rampTerm,
  slopeTerm,
  stepTerm,
  termAt,
} from "../../../lib/blocks/texture/ground-terms.js";
import { termMatrix } from "../../../lib/blocks/texture/term-elimination.js";
import { filtered } from "../../../lib/blocks/texture/whitening-filter.js";
import { dot } from "../../../lib/numerics/algebra/dot.js";
import { expectClose } from "../../support/expect-close.js";
import { gappedLine, N } from "./support/gapped-line.js";

/** Products of hundreds of terms of size one. */
const ROUNDING = { relative: 1e-9, absolute: 1e-9 };

/** A texture, one with white noise alone, and levels that wander little and much. */
const SHAPES: readonly ShapeAt[] = [
  [2, 3, 0],
  [0, 5, 0],
  [4, 0, 1],
  [3, 2, 7],
];

describe.each(SHAPES)("terms whitened under the shape %i, %i, %i", (...at) => {
  const terms = [
    slopeTerm(N),
    stepTerm(230, 0),
    stepTerm(40, 0),
    rampTerm(N, [40, 99], 0),
    stepTerm(100, 0),
    broad(rampTerm(N, [85.5, 260.2], 0)),
    rampTerm(N, [250.3, N + 20], 0),
  ];
  const line = { ...gappedLine(3), terms };
  const chosen = [5, 1, 3, 0, 4, 6];
  const fits = new GroundFits(line);
  const order = fits.order.chosen(chosen);
  const rows = fits.order.rows(order);
  const { matrix, rights } = termMatrix(fits.shape(at).products, order);
  const { filter } = new FilteredLine(line, shapeOf(at));
  const whole = rows.map((row) => {
    const level = Float64Array.from({ length: N }, (_, i) =>
      row === 0 ? 1 : termAt(terms[row - 1]!, i),
    );
    return filtered(filter, level).white;
  });

  it("have the products of their whole columns", () => {
    const m = rows.length;
    for (let i = 0; i < m; i++) {
      for (let j = 0; j <= i; j++) {
        expectClose(matrix[i * m + j]!, dot(whole[i]!, whole[j]!), ROUNDING);
      }
    }
  });

  it("have those with the columns, too", () => {
    for (const [c, column] of line.columns.entries()) {
      const { white } = filtered(filter, column);
      for (const [i, one] of whole.entries())
        expectClose(rights[c]![i]!, dot(one, white), ROUNDING);
    }
  });
});
