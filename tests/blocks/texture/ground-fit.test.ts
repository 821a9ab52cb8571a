import { expect, it } from "vitest";
import { cheapest, GroundFits } from "../../../lib/blocks/texture/ground-fit.js";
import type { ShapeAt } from "../../../lib/blocks/texture/ground-shape.js";
import { broad, rampTerm, slopeTerm, stepTerm } from "../../../lib/blocks/texture/ground-terms.js";
import { gappedLine, N } from "./support/gapped-line.js";

const SHAPES: readonly ShapeAt[] = [
  [2, 3, 0],
  [4, 1, 2],
];

it.each(SHAPES)("drops the term whose fit without it is cheapest, under %i, %i, %i", (...at) => {
  const terms = [
    slopeTerm(N),
    // Two in the gap, which are one to the samples.
    ...[30, 64, 100, 125, 140, 230, 262].map((place, k) => stepTerm(place, 3 + k)),
    broad(rampTerm(N, [50, 180], 2)),
  ];
  for (let seed = 10; seed < 30; seed++) {
    const fits = new GroundFits({ ...gappedLine(seed), terms });
    for (let left = [...terms.keys()]; left.length > 0; ) {
      const tried = left.map((term) =>
        fits.under(
          left.filter((one) => one !== term),
          at,
        ),
      );
      const found = fits.cheapestWithout({ terms: left, at });
      // Where two are as good as each other, either may go.
      const [own, best] = [fits.under(found, at), cheapest(tried)];
      expect(found.length).toBe(left.length - 1);
      expect(own.cost).toBeLessThanOrEqual(best.cost + 1e-6);
      left = [...found];
    }
  }
});
