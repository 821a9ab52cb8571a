import { describe, expect, it } from "vitest";
import { FilteredLine } from "../../../lib/blocks/texture/filtered-line.js";
import { GroundFits } from "../../../lib/blocks/texture/ground-fit.js";
import { SHAPE_STARTS, type ShapeAt, shapeOf } from "../../../lib/blocks/texture/ground-shape.js";
import {
  type GroundTerm,
  rampTerm,
  slopeTerm,
  stepTerm,
  termAt,
} from "../../../lib/blocks/texture/ground-terms.js";
import { TermCosts } from "../../../lib/blocks/texture/term-costs.js";
import { filtered } from "../../../lib/blocks/texture/whitening-filter.js";
import { choleskyFactor, forwardSolve } from "../../../lib/numerics/algebra/cholesky.js";
import { dot } from "../../../lib/numerics/algebra/dot.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";
import { gappedLine, N } from "./support/gapped-line.js";

/** The ridge beside the others is left out below; it is 1e-10 of a square. */
const RIDGE = { relative: 1e-7 };

describe("what a term tells beside others", () => {
  const terms = [slopeTerm(N), stepTerm(60, 0), stepTerm(100, 0), stepTerm(210, 0)];
  const line = { ...gappedLine(4), terms };
  const fits = new GroundFits(line);
  const columnOf = (term: GroundTerm) =>
    Float64Array.from({ length: N }, (_, i) => termAt(term, i));

  /** The square of a whitened column that is left beside those of level and terms, densely. */
  function left(at: ShapeAt, others: readonly number[], term: GroundTerm): number {
    const { filter } = new FilteredLine(line, shapeOf(at));
    const all = [stepTerm(0, 0), ...others.map((k) => terms[k]!)];
    const white = all.map((one) => filtered(filter, columnOf(one)).white);
    const own = filtered(filter, columnOf(term)).white;
    const m = all.length;
    const matrix = Float64Array.from({ length: m * m }, (_, k) =>
      dot(white[Math.floor(k / m)]!, white[k % m]!),
    );
    const right = Float64Array.from(white, (one) => dot(one, own));
    const told = forwardSolve(choleskyFactor(matrix, m), m, right);
    return dot(own, own) - dot(told, told);
  }

  const tried: readonly GroundTerm[] = [
    ...[30, 99, 101, 135, 215, 296].map((at) => stepTerm(at, 0)),
    rampTerm(N, [20.4, 41.3], 0),
    // Over a step of the fit, over the gap, and beyond the end.
    rampTerm(N, [190, 240], 0),
    rampTerm(N, [115, 160], 0),
    rampTerm(N, [280, 320], 0),
  ];
  const shapes: readonly ShapeAt[] = [
    [2, 3, 0],
    [4, 1, 2],
    [1, 4, 6],
  ];

  it.each(shapes)("is what their whole columns leave of its own, under %i, %i, %i", (...at) => {
    const fit = fits.under([0, 1, 2, 3], at);
    for (const term of tried) {
      const found = new TermCosts(fits, fit, 2).information(term);
      expectClose(found, left(at, [0, 1, 3], term), RIDGE);
    }
  });

  it("is least in cost where a step was put in", () => {
    const fit = fits.under([1, 2], [2, 3, 0]);
    const costs = new TermCosts(fits, fit, 2).ofSteps([80, 119]);
    expect(80 + costs.indexOf(Math.min(...costs))).toBe(100);
  });
});

describe("a term that no sample shows, as a ramp within a gap at the end of a line", () => {
  const M = 120;
  /** From here on no sample was read. */
  const END = 90;
  const random = seededRandom(1);
  const missing = (value: number, i: number) => (i < END ? value : Number.NaN);
  const line = {
    excess: new Float64Array(M).map(missing),
    spacing_m: 1,
    columns: [Float64Array.from({ length: M }, () => 0.1 * random.normal()).map(missing)],
    effectiveColumns: 1,
    floor: [1e-4],
    terms: [stepTerm(30, 0), rampTerm(M, [END + 5, M], 0)],
  };
  const fits = new GroundFits(line);
  const at = SHAPE_STARTS[0]!;

  it("takes nothing of what another one tells", () => {
    const told = (terms: readonly number[]) =>
      new TermCosts(fits, { ...fits.under([0], at), terms }).information(stepTerm(60, 0));
    expect(told([0, 1])).toBe(told([0]));
  });

  it("leaves the fit of the others as it is", () => {
    expect(fits.under([0, 1], at).variance).toEqual(fits.under([0], at).variance);
    expect(fits.sizes(fits.under([0, 1], at))[0]!.at(-1)).toBe(0);
  });
});
