import { describe, expect, it } from "vitest";
import { groupVisits, type Repeat } from "../../../lib/drift/checks/visits.js";
import { expectClose } from "../../support/expect-close.js";

const visit = (start_s: number, values: readonly number[]): Repeat[] =>
  values.map((value, i) => ({ time_s: start_s + 2 * i, value }));

describe("groupChecks", () => {
  it("parts visits where two repeats lie further apart than asked", () => {
    const repeats = [...visit(0, [1, 2]), ...visit(151, [3]), ...visit(302, [4, 5])];
    expect(groupVisits(repeats, { within_s: 150 }).visits.map(({ used }) => used)).toEqual([3, 2]);
    expect(groupVisits(repeats, { within_s: 148 }).visits.map(({ used }) => used)).toEqual([
      2, 1, 2,
    ]);
  });

  it("does not care in which order the repeats come", () => {
    const repeats = [...visit(0, [1, 2, 4]), ...visit(3600, [3, 6, 5])];
    expect(groupVisits([...repeats].reverse(), { within_s: 150 })).toEqual(
      groupVisits(repeats, { within_s: 150 }),
    );
  });

  it("gives the mean, its time and the pooled standard error", () => {
    // Squares about the means 2 and 11: 2 and 2, four degrees of freedom, so the scatter is 1.
    const { visits, scatter, freedom } = groupVisits(
      [...visit(100, [1, 2, 3]), ...visit(5000, [10, 11, 12])],
      { within_s: 150 },
    );
    expect(visits.map(({ mean }) => mean)).toEqual([2, 11]);
    expect(visits.map(({ time_s }) => time_s)).toEqual([102, 5002]);
    expect([scatter, freedom]).toEqual([1, 4]);
    expectClose(visits[0]!.error, 1 / Math.sqrt(3), { relative: 1e-12 });
  });

  it("leaves one bad repeat out of a visit", () => {
    const good = [10, 11, 9, 10.5, 9.5];
    const { visits } = groupVisits([...visit(0, good), ...visit(3600, [...good, 500])], {
      within_s: 150,
    });
    expect(visits[1]).toMatchObject({ mean: 10, used: 5, bad: 1 });
  });

  it("takes the noise of the walk at the spot's level where no visit has repeats", () => {
    const repeats = [0, 2, 4].map((value, i) => ({ time_s: 3600 * i, value: value + 5 }));
    const found = groupVisits(repeats, { within_s: 150, noiseAt: (value) => value / 10 });
    expect(found).toMatchObject({ scatter: 0.7, freedom: 8 });
    expect(found.visits.map(({ error }) => error)).toEqual([0.7, 0.7, 0.7]);
  });

  it("fills up few repeats with it, and leaves many as they are", () => {
    // Two degrees of freedom with squares 2 + 2, six more with 3² each: sqrt((4 + 54) / 8).
    const pairs = [...visit(0, [1, 3]), ...visit(3600, [5, 7])];
    const few = groupVisits(pairs, { within_s: 150, noiseAt: () => 3 });
    expectClose(few.scatter, Math.sqrt(58 / 8), { relative: 1e-12 });
    const many = [...visit(0, [1, 2, 3, 4, 5]), ...visit(3600, [5, 6, 7, 8, 9])];
    const [own, told] = [undefined, () => 30].map((noiseAt) =>
      groupVisits(many, noiseAt ? { within_s: 150, noiseAt } : { within_s: 150 }),
    );
    expect(told).toEqual(own);
  });

  it("knows no scatter from single repeats without a walk, nor from repeats that all agree", () => {
    expect(
      groupVisits([...visit(0, [1]), ...visit(3600, [2])], { within_s: 150 }).scatter,
    ).toBeNaN();
    expect(
      groupVisits([...visit(0, [1, 1]), ...visit(3600, [2, 2])], { within_s: 150 }).scatter,
    ).toBeNaN();
  });
});
