import { describe, expect, it } from "vitest";
import { classMixture } from "../../../lib/blocks/classes/class-mixture.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";

const even = (levels: readonly (readonly number[])[], variance = 1e-6) =>
  levels.map((level) => ({ level, variance: level.map(() => variance) }));

describe("classMixture", () => {
  it("finds the number and the members of well-parted classes", () => {
    const random = seededRandom(6);
    const truth = [0, 1, 2, 0, 1, 2, 0, 1, 2, 0];
    const centres = [
      [1.3, 1.5],
      [1.7, 1.6],
      [2.1, 2.2],
    ];
    const level = truth.map((k) => centres[k]!.map((value) => value + 0.03 * random.normal()));
    const { member, probability, bic } = classMixture(even(level), {
      within: 0.03,
      columnWeight: 1,
    });
    expect(bic.indexOf(Math.min(...bic))).toBe(2);
    expect(new Set(member).size).toBe(3);
    truth.forEach((k, i) => {
      expect(member[i]).toBe(member[truth.indexOf(k)]);
      expect(probability[i]).toBeGreaterThan(0.999);
    });
  });

  it("stops where more classes cannot be better, however well they fit", () => {
    const random = seededRandom(20261203);
    const level = Array.from({ length: 60 }, (_, i) => [
      1 + 0.4 * (i % 4) + 0.04 * random.normal(),
    ]);
    const { member, bic } = classMixture(even(level), { within: 0.04, columnWeight: 1 });
    expect(bic.indexOf(Math.min(...bic))).toBe(3);
    expect(new Set(member).size).toBe(4);
    // At the most 60 levels met exactly gain 60 (ln 4 + 1/2) nats or so over four classes.
    const cost = 2 * Math.log(60);
    expect(bic.length).toBeGreaterThan(4);
    expect(bic.length).toBeLessThan(4 + (2 * 60 * (Math.log(4) + 1)) / cost);
  });

  it("has the log likelihood of one normal distribution for one class", () => {
    const level = [[1], [1.2], [1.4]];
    const { bic } = classMixture(even(level, 0.01), { within: 0.1, columnWeight: 1 });
    // Mean 1.2, variance 0.02: −2 ln L = 3 ln(2π × 0.02) + 0.08 / 0.02, and one fitted value.
    const expected = 3 * Math.log(2 * Math.PI * 0.02) + 4 + Math.log(3);
    expectClose(bic[0]!, expected, { absolute: 1e-9 });
  });

  it("tells a block of uncertain level as uncertain", () => {
    const sure = even([[1], [1.01], [2], [2.01]], 1e-4);
    const { member, probability } = classMixture([...sure, ...even([[1.5]], 0.3)], {
      within: 0.05,
      columnWeight: 1,
    });
    expect(new Set(member.slice(0, 4)).size).toBe(2);
    expect(probability[0]).toBeGreaterThan(0.99);
    expect(probability[4]).toBeLessThan(0.8);
  });

  it("leaves a missing column out, and takes one block", () => {
    const level = [
      [1, Number.NaN],
      [1, 1.5],
      [2, 2.5],
      [2, Number.NaN],
    ];
    const { member } = classMixture(even(level), { within: 0.05, columnWeight: 1 });
    expect(member[0]).toBe(member[1]);
    expect(member[2]).toBe(member[3]);
    expect(member[0]).not.toBe(member[2]);
    expect(classMixture(even([[1, 2]]), { within: 0.1, columnWeight: 1 }).member).toEqual([0]);
  });
});
