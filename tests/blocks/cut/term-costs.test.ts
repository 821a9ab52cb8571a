import { describe, expect, it } from "vitest";
import { GroundFits } from "../../../lib/blocks/texture/ground-fit.js";
import { SHAPE_STARTS } from "../../../lib/blocks/texture/ground-shape.js";
import { rampTerm, stepTerm } from "../../../lib/blocks/texture/ground-terms.js";
import { TermCosts } from "../../../lib/blocks/texture/term-costs.js";
import { seededRandom } from "../../../lib/numerics/random.js";

const N = 120;
/** From here on no sample was read. */
const END = 90;

describe("a term that no sample shows, as a ramp within a gap at the end of a line", () => {
  const random = seededRandom(1);
  const missing = (value: number, i: number) => (i < END ? value : Number.NaN);
  const line = {
    excess: new Float64Array(N).map(missing),
    spacing_m: 1,
    columns: [Float64Array.from({ length: N }, () => 0.1 * random.normal()).map(missing)],
    effectiveColumns: 1,
    floor: [1e-4],
    terms: [stepTerm(N, 30, 0), rampTerm(N, [END + 5, N], 0)],
  };
  const fits = new GroundFits(line);
  const at = SHAPE_STARTS[0]!;
  const step = stepTerm(N, 60, 0);

  it("takes nothing of what another one tells", () => {
    const told = (terms: readonly number[]) =>
      new TermCosts(fits, { ...fits.under([0], at), terms }).information(step.column, step.from);
    expect(told([0, 1])).toBe(told([0]));
  });

  it("leaves the fit of the others as it is", () => {
    expect(fits.under([0, 1], at).variance).toEqual(fits.under([0], at).variance);
    expect(fits.sizes(fits.under([0, 1], at))[0]!.at(-1)).toBe(0);
  });
});
