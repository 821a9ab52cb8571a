import { describe, expect, it } from "vitest";
import type { ClassedStretch } from "../../../lib/blocks/agreement/agreement.js";
import { compareSegmentations as compared } from "../../../lib/blocks/agreement/compare-segmentations.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";
import { expectFault } from "../../support/expect-fault.js";

const compareSegmentations = (...given: Parameters<typeof compared>) => compared(...given).value;

/** Stretches from ends and class letters: cut([0, 40, 100], "AB"). */
const cut = (ends: readonly number[], letters: string): ClassedStretch[] =>
  [...letters].map((name, i) => ({ from_m: ends[i]!, to_m: ends[i + 1]!, class: name }));

const one = cut([0, 100, 200, 300, 400], "ABAC");

describe("compareSegmentations", () => {
  it("agrees fully with itself", () => {
    const same = compareSegmentations(one, one);
    expect(same).toMatchObject({ precision: 1, recall: 1, f: 1, kappa: 1, sameClass_pct: 100 });
    expect(same.kappaInterval).toEqual([1, 1]);
    expect(same.onlyOne_m).toEqual([]);
  });

  it("counts boundaries within the distance, each once", () => {
    const other = cut([0, 95, 105, 230, 400], "ADBC");
    const found = compareSegmentations(one, other, { within_m: 10 });
    expect(found.matched).toEqual([{ one_m: 100, other_m: 95 }]);
    expect(found.onlyOne_m).toEqual([200, 300]);
    expect(found.onlyOther_m).toEqual([105, 230]);
    expectClose(found.precision, 1 / 3, { absolute: 1e-12 });
    expectClose(found.recall, 1 / 3, { absolute: 1e-12 });
    expect(compareSegmentations(one, other, { within_m: 30 }).matched).toHaveLength(2);
  });

  it("pairs as many as any pairing can, at the least distance", () => {
    // Taking the nearest first, 110 with 112, would leave 100 and 121 without a partner.
    const a = cut([0, 100, 110, 400], "ABC");
    const b = cut([0, 112, 121, 400], "ABC");
    expect(compareSegmentations(a, b, { within_m: 12 }).matched).toEqual([
      { one_m: 100, other_m: 112 },
      { one_m: 110, other_m: 121 },
    ]);
    const near = cut([0, 101, 109, 400], "ABC");
    expect(compareSegmentations(a, near, { within_m: 12 }).matched[0]!.other_m).toBe(101);
  });

  it("compares classes by metre: kappa of a table worked by hand", () => {
    // A/A 100 m, A/B 50 m, B/B 50 m: agreement 0.75, by chance 0.75 × 0.5 + 0.25 × 0.5 = 0.5.
    const found = compareSegmentations(cut([0, 150, 200], "AB"), cut([0, 100, 200], "AB"));
    expect(found.compared_m).toBe(200);
    expectClose(found.sameClass_pct, 75, { absolute: 1e-9 });
    expectClose(found.kappa, 0.5, { absolute: 1e-12 });
    const finer = compareSegmentations(cut([0, 150, 200], "AB"), cut([0, 100, 200], "AB"), {
      independent_m: 1,
    });
    // Variance by the formula of Fleiss, Cohen & Everitt: (0.16796875 + 0.03515625 − 0.0625) / 200
    // over (1 − 0.5)²; two-sided 95 %.
    const width = ([low, high]: readonly [number, number]) => high - low;
    expectClose(width(finer.kappaInterval), (2 * 1.959964 * Math.sqrt(0.140625 / 200)) / 0.5, {
      relative: 1e-6,
    });
    expect(found.kappaInterval[1]).toBe(1);
  });

  it("swaps precision and recall with its arguments, and keeps the rest", () => {
    const random = seededRandom(4);
    for (let trial = 0; trial < 50; trial++) {
      const ends = () => {
        const inner = Array.from({ length: 1 + random.integer(6) }, () => 500 * random.uniform());
        return [0, ...inner.sort((a, b) => a - b), 500];
      };
      const letters = (n: number) =>
        Array.from({ length: n }, () => "ABC"[random.integer(3)]!).join("");
      const [p, q] = [ends(), ends()];
      const first = cut(p, letters(p.length - 1));
      const second = cut(q, letters(q.length - 1));
      const there = compareSegmentations(first, second, { within_m: 20 });
      const back = compareSegmentations(second, first, { within_m: 20 });
      expect(back.precision).toBe(there.recall);
      expect(back.matched).toHaveLength(there.matched.length);
      if (Number.isNaN(there.kappa)) expect(back.kappa).toBeNaN();
      else expectClose(back.kappa, there.kappa, { absolute: 1e-9 });
    }
  });

  it("leaves gaps out of the classes, and puts a boundary in the middle of a gap", () => {
    const gappy = [
      { from_m: 0, to_m: 90, class: "A" },
      { from_m: 110, to_m: 200, class: "B" },
    ];
    const found = compareSegmentations(gappy, one);
    expect(found.compared_m).toBe(180);
    expect(found.matched).toEqual([{ one_m: 100, other_m: 100 }]);
    expect(found.otherBoundaries).toBe(1);
    expect(compareSegmentations([one[0]!], [one[3]!])).toMatchObject({ compared_m: 0, f: 1 });
  });

  it.each([
    [[], one, {}, "empty one must be at least one stretch, got none"],
    [
      one,
      [{ from_m: 5, to_m: 5, class: "A" }],
      {},
      "stretch other[0] must be to_m above from_m, got from 5 to 5",
    ],
    [
      [one[0], { from_m: 50, to_m: 150, class: "B" }],
      one,
      {},
      "overlap one[1].from_m must be at or after the end of the stretch before (100 m), got 50",
    ],
    [[{ from_m: 0, to_m: 5 }], one, {}, "class one[0].class must be a name, got undefined"],
    [
      one,
      one,
      { within_m: -1 },
      "option-range options.within_m must be a number at least 0 m, got -1",
    ],
    [
      one,
      one,
      { independent_m: 0 },
      'option-range options.independent_m must be a number above 0 m, or "block", got 0',
    ],
    [
      one,
      one,
      { distance: 3 },
      'option-unknown options.distance must be one of within_m, classes, sameGround_decades, independent_m, got "distance"',
    ],
  ])("refuses what is no cut (%#)", (first, second, options, text) => {
    const call = () =>
      compareSegmentations(
        first as ClassedStretch[],
        second as ClassedStretch[],
        options as object,
      );
    expectFault(call, text);
  });
});
