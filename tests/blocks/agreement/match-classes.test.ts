// Classes are told to be the same by what they are, and not by their letters.
import { describe, expect, it } from "vitest";
import type { ClassedStretch } from "../../../lib/blocks/agreement/agreement.js";
import { compareSegmentations as compared } from "../../../lib/blocks/agreement/compare-segmentations.js";
import { expectClose } from "../../support/expect-close.js";

const compareSegmentations = (...given: Parameters<typeof compared>) => compared(...given).value;

/** Blocks of 100 m from letters, each letter with its resistivities by slice. */
function cut(
  letters: string,
  ground: Readonly<Record<string, readonly number[]>>,
  bases_m: readonly number[] = [1, 2],
): ClassedStretch[] {
  return [...letters].map((name, i) => ({
    from_m: 100 * i,
    to_m: 100 * (i + 1),
    class: name,
    resistivity_ohm_m: ground[name]!.map((median, k) => ({
      top_m: k === 0 ? 0 : bases_m[k - 1]!,
      base_m: bases_m[k]!,
      median,
    })),
  }));
}

const named = (letters: string): ClassedStretch[] =>
  cut(letters, Object.fromEntries([...letters].map((name) => [name, []])), []);

describe("compareSegmentations, which class is which", () => {
  // One cut finds a conductive class more, and every letter moves by one.
  const one = cut("ABCABCAB", { A: [20, 25], B: [45, 50], C: [110, 120] });
  const other = cut("BCDBCDBA", { A: [9, 10], B: [21, 25], C: [46, 49], D: [105, 118] });

  it("goes by resistivity where both give it, however the letters have moved", () => {
    const found = compareSegmentations(one, other);
    expect(found.matchedBy).toBe("ground");
    expect(found.classPairs).toEqual([
      { one: "A", other: "B", shared_m: 300 },
      { one: "B", other: "C", shared_m: 200 },
      { one: "C", other: "D", shared_m: 200 },
    ]);
    expectClose(found.sameClass_pct, 87.5, { absolute: 1e-9 });
    expect(found.kappa).toBeGreaterThan(0.8);
    const byName = compareSegmentations(one, other, { classes: "name" });
    expect(byName.sameClass_pct).toBe(0);
    expect(byName.kappa).toBeLessThan(0);
  });

  it("does not pair grounds that are far apart, though they lie at one place", () => {
    const found = compareSegmentations(
      cut("AB", { A: [20, 20], B: [100, 100] }),
      cut("AB", { A: [20, 20], B: [300, 300] }),
    );
    expect(found.classPairs).toEqual([{ one: "A", other: "A", shared_m: 100 }]);
    expect(found.sameClass_pct).toBe(50);
    const wide = { sameGround_decades: 0.6 };
    expect(
      compareSegmentations(
        cut("AB", { A: [20, 20], B: [100, 100] }),
        cut("AB", { A: [20, 20], B: [300, 300] }),
        wide,
      ).sameClass_pct,
    ).toBe(100);
  });

  it("compares slices of other depths where they overlap", () => {
    const thin = cut("AB", { A: [20, 20, 30], B: [90, 90, 80] }, [0.5, 1, 2]);
    const thick = cut("XY", { X: [90, 80], Y: [20, 30] });
    const pairs = compareSegmentations(thin, thick).classPairs;
    expect(pairs.map((pair) => `${pair.one}${pair.other}`)).toEqual(["AY", "BX"]);
  });

  it("goes by where classes lie where a second interpreter gives names only", () => {
    const found = compareSegmentations(one, named("rsturtrs"));
    expect(found.matchedBy).toBe("overlap");
    expect(found.classPairs.map((pair) => `${pair.one}${pair.other}`)).toEqual(["Ar", "Bs", "Ct"]);
    expectClose(found.sameClass_pct, 75, { absolute: 1e-9 });
  });

  it("keeps apart classes that share a letter and nothing else", () => {
    const found = compareSegmentations(named("AAB"), named("BBB"));
    // The most length is shared by A and B; the one's B then has none.
    expect(found.classPairs).toEqual([{ one: "A", other: "B", shared_m: 200 }]);
    expectClose(found.sameClass_pct, (100 * 2) / 3, { absolute: 1e-9 });
  });

  it("gives the same agreement the other way round, and to itself all of it", () => {
    const back = compareSegmentations(other, one);
    expectClose(back.sameClass_pct, 87.5, { absolute: 1e-9 });
    expectClose(back.kappa, compareSegmentations(one, other).kappa, { absolute: 1e-12 });
    expect(compareSegmentations(one, one)).toMatchObject({ sameClass_pct: 100, kappa: 1 });
  });
});
