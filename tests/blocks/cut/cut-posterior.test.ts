import { describe, expect, it } from "vitest";
import { cutPosterior } from "../../../lib/blocks/cut/cut-posterior.js";
import { segmentCosts } from "../../../lib/blocks/cut/segment-costs.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";
import { type BruteForceCase, objective } from "./brute-force.js";

const rounding = { relative: 1e-8, absolute: 1e-12 };

/** Every allowed cut with its weight exp(−½ objective). */
function allCuts(given: BruteForceCase): { breaks: readonly number[]; weight: number }[] {
  const n = given.columns[0]!.length;
  const cuts: { breaks: readonly number[]; weight: number }[] = [];
  const extend = (breaks: readonly number[]) => {
    cuts.push({ breaks, weight: Math.exp(-0.5 * objective(given, breaks)) });
    const last = breaks.at(-1) ?? 0;
    for (let at = last + given.minLength; at <= n - given.minLength; at++) extend([...breaks, at]);
  };
  extend([]);
  return cuts;
}

function randomCase(seed: number): BruteForceCase {
  const random = seededRandom(seed);
  const n = 9 + random.integer(6);
  const column = () =>
    Array.from({ length: n }, (_, i) =>
      random.uniform() < 0.1 ? Number.NaN : (i > n / 2 ? 1.5 : 0) + random.normal(),
    );
  const columns = [column(), column()];
  return { columns, noise: [1, 1.4], penalty: "mbic", minLength: 1 + random.integer(3) };
}

describe("cutPosterior", () => {
  it("has the probabilities that summing over every cut has", () => {
    for (let seed = 1; seed <= 60; seed++) {
      const given = randomCase(seed);
      const { columns, noise, minLength } = given;
      const n = columns[0]!.length;
      const present = columns[0]!.filter(
        (v, i) => !Number.isNaN(v) || !Number.isNaN(columns[1]![i]!),
      );
      const costs = segmentCosts(columns, { noise, lengthWeight: 1 });
      const cuts = allCuts(given);
      const total = cuts.reduce((sum, { weight }) => sum + weight, 0);
      const share = (holds: (breaks: readonly number[]) => boolean) =>
        cuts.reduce((sum, { breaks, weight }) => sum + (holds(breaks) ? weight : 0), 0) / total;
      const at = Math.floor(n / 2);
      const pricePerBreak = 2 * Math.log(present.length);
      const posterior = cutPosterior(costs, [at], { pricePerBreak, minLength });
      for (let i = 1; i < n; i++) {
        const expected = share((breaks) => breaks.includes(i));
        expectClose(posterior.breakProbability[i]!, expected, rounding);
      }
      for (let m = 0; m < 6; m++) {
        const expected = share((breaks) => breaks.length === m);
        expectClose(posterior.numberProbability[m]!, expected, rounding);
      }
      const { from, to } = posterior.ranges[0]!;
      const single = share((breaks) => breaks.length === 1);
      const inside = share((b) => b.length === 1 && b[0]! >= from && b[0]! <= to) / single;
      expect(inside).toBeGreaterThanOrEqual(0.9 - 1e-9);
      // Shortest: no stretch that is one sample shorter holds as much.
      for (let first = 1; first + to - from - 1 < n; first++) {
        const last = first + to - from - 1;
        const less = share((b) => b.length === 1 && b[0]! >= first && b[0]! <= last) / single;
        if (from < at && to > at) expect(less).toBeLessThan(0.9);
      }
    }
  });

  it("puts a clear break in one place, and is as unsure as it should be of a weak one", () => {
    const column = Array.from({ length: 80 }, (_, i) => (i < 40 ? 0 : 8) + (i % 2));
    const clear = cutPosterior(segmentCosts([column], { noise: [1], lengthWeight: 1 }), [40], {
      pricePerBreak: 2 * Math.log(80),
      minLength: 5,
    });
    expect(clear.ranges[0]).toMatchObject({ at: 40, from: 40, to: 40 });
    expect(clear.ranges[0]!.probability).toBeGreaterThan(0.999);
    const faint = cutPosterior(segmentCosts([column], { noise: [400], lengthWeight: 1 }), [40], {
      pricePerBreak: 2 * Math.log(80),
      minLength: 5,
    });
    expect(faint.ranges[0]!.to - faint.ranges[0]!.from).toBeGreaterThan(20);
  });

  it("narrows a range to the noise at its own width, never beyond the place itself", () => {
    const random = seededRandom(5);
    const column = Array.from({ length: 120 }, (_, i) => (i < 60 ? 0 : 1) + random.normal());
    const costs = segmentCosts([column], { noise: [1], lengthWeight: 1 });
    const options = { pricePerBreak: 2 * Math.log(120), minLength: 5 };
    const width = (excess: number) => {
      const { from, to } = cutPosterior(costs, [60], { ...options, excess: () => excess })
        .ranges[0]!;
      return to - from;
    };
    expect(width(1)).toBe(
      cutPosterior(costs, [60], options).ranges.map(({ from, to }) => to - from)[0],
    );
    expect(width(4)).toBeLessThan(width(1));
    expect(width(1e6)).toBeLessThanOrEqual(2);
  });
});
