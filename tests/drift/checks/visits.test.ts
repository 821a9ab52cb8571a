import { describe, expect, it } from "vitest";
import { groupVisits, type Repeat } from "../../../lib/drift/checks/visits.js";
import { expectClose } from "../../support/expect-close.js";

const visit = (start_s: number, values: readonly number[]): Repeat[] =>
  values.map((value, i) => ({ time_s: start_s + 2 * i, value }));

describe("groupChecks", () => {
  it("parts visits where two repeats lie further apart than asked", () => {
    const repeats = [...visit(0, [1, 2]), ...visit(151, [3]), ...visit(302, [4, 5])];
    expect(groupVisits(repeats, 150).visits.map(({ used }) => used)).toEqual([3, 2]);
    expect(groupVisits(repeats, 148).visits.map(({ used }) => used)).toEqual([2, 1, 2]);
  });

  it("does not care in which order the repeats come", () => {
    const repeats = [...visit(0, [1, 2, 4]), ...visit(3600, [3, 6, 5])];
    expect(groupVisits([...repeats].reverse(), 150)).toEqual(groupVisits(repeats, 150));
  });

  it("gives the mean, its time and the pooled standard error", () => {
    // Squares about the means 2 and 11: 2 and 2, four degrees of freedom, so the scatter is 1.
    const { visits, scatter, freedom } = groupVisits(
      [...visit(100, [1, 2, 3]), ...visit(5000, [10, 11, 12])],
      150,
    );
    expect(visits.map(({ mean }) => mean)).toEqual([2, 11]);
    expect(visits.map(({ time_s }) => time_s)).toEqual([102, 5002]);
    expect([scatter, freedom]).toEqual([1, 4]);
    expectClose(visits[0]!.error, 1 / Math.sqrt(3), { relative: 1e-12 });
  });

  it("leaves one bad repeat out of a visit", () => {
    const good = [10, 11, 9, 10.5, 9.5];
    const { visits } = groupVisits([...visit(0, good), ...visit(3600, [...good, 500])], 150);
    expect(visits[1]).toMatchObject({ mean: 10, used: 5, bad: 1 });
  });

  it("takes the scatter of single repeats from how far each lies off its neighbours' line", () => {
    // Bends of 3 and -3 at equal spacing: 3 / sqrt(1 + 1/4 + 1/4), and the MAD factor 1.4826.
    const repeats = [0, 0, 3, 0, 0].map((value, i) => ({ time_s: 3600 * i, value: value + 5 }));
    const { scatter, freedom } = groupVisits(repeats, 150);
    expect(freedom).toBe(3);
    expectClose(scatter, (1.482602218505602 * 1.5) / Math.sqrt(1.5), { relative: 1e-9 });
  });

  it("knows no scatter from two single repeats, nor from repeats that all agree", () => {
    expect(groupVisits([...visit(0, [1]), ...visit(3600, [2])], 150).scatter).toBeNaN();
    expect(groupVisits([...visit(0, [1, 1]), ...visit(3600, [2, 2])], 150).scatter).toBeNaN();
  });
});
