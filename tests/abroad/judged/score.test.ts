import { describe, expect, it } from "vitest";
import { expectClose } from "../../support/expect-close.js";
import { chance } from "../random.js";
import { makeSurvey } from "../survey.js";
import { errorBetween, scoreSlices } from "./score.js";
import { overlapOverUnion, scoreBoundaries, scoreChanges } from "./score-stretches.js";

const { truth } = makeSurvey({
  seed: 2,
  ground: "random walk",
  instrument: "2 and 4 m, mS/m",
  length_m: 60,
});
const edges = [0, 1, 2.5];
const chainage_m = Float64Array.from({ length: 2000 }, (_, i) => 0.03 * i);

/** The truth with an error drawn for each station; both slices are said to be off by 0.1. */
function estimate(offBy: (random: () => number) => number) {
  const random = chance(1, "estimate");
  const log10Resistivity = [0, 1].map((k) =>
    chainage_m.map(
      (x) => truth.meanLog10({ chainage_m: x }, edges[k]!, edges[k + 1]!) + offBy(random.normal),
    ),
  );
  const slices = [0, 1].map((k) => ({
    top_m: edges[k]!,
    base_m: edges[k + 1]!,
    reliable: k === 0,
  }));
  const sd = slices.map(() => new Float64Array(chainage_m.length).fill(0.1));
  return { chainage_m, spacing_m: 1e-6, slices, log10Resistivity, sd, reliableTo_m: 1 };
}

describe("scores of the menagerie", () => {
  it("find four stations in five held where errors are as stated", () => {
    for (const one of scoreSlices(
      estimate((random) => 0.1 * random()),
      truth,
    )) {
      // Binomial: sqrt(0.8 × 0.2 / 2000) = 0.009; the median of |normal| is 0.6745.
      expectClose(one.held, 0.8, { absolute: 0.03 });
      expectClose(one.error, 0.06745, { relative: 0.08 });
      expectClose(one.sd, 0.1, { relative: 1e-12 });
      expect(one.stations).toBe(2000);
    }
  });

  it("see a bias, and leave stations in gaps out", () => {
    const [shallow, deep] = scoreSlices(
      estimate(() => 0.2),
      truth,
    );
    expect([shallow!.held, shallow!.reliable, deep!.reliable]).toEqual([0, true, false]);
    expectClose(shallow!.bias, 0.2, { relative: 1e-4 });
    const gaps = estimate((random) => (random() > 0 ? Number.NaN : 0));
    const [left] = scoreSlices(gaps, truth);
    expect(left!.stations).toBeLessThan(1100);
    expect(left!.held).toBe(1);
  });

  it("measure a layered model between depths of one's own", () => {
    const columns = [5, 25].map((x) => truth.columnAt({ chainage_m: x }));
    const top_m = columns[0]!.top_m;
    expect(columns[1]!.top_m.length).toBe(top_m.length);
    const at = (chainage: number[], log10: readonly number[]) => ({
      chainage_m: chainage,
      layers: { top_m, log10Resistivity: log10 },
    });
    expectClose(errorBetween(at([5], columns[0]!.log10), truth, [0, 3]), 0, { absolute: 1e-12 });
    const raised = columns[0]!.log10.map((value) => value - 0.3);
    expectClose(errorBetween(at([5], raised), truth, [1, 3]), 0.3, { relative: 1e-9 });
  });

  it("count a change as found from half the union on, in its own direction", () => {
    const change = { from_m: 100, to_m: 200, top_m: 0, base_m: 1, factor: 0.5 };
    const found = (from_m: number, to_m: number, direction: "fell" | "rose" = "fell") =>
      scoreChanges([{ from_m, to_m, direction }], [change]);
    expect(overlapOverUnion({ from_m: 0, to_m: 10 }, { from_m: 5, to_m: 15 })).toBe(5 / 15);
    expect(found(100, 150)).toEqual({ found: 1, true: 1, falseStretches: 0 });
    expect(found(100, 149)).toEqual({ found: 0, true: 1, falseStretches: 0 });
    expect(found(100, 200, "rose")).toEqual({ found: 0, true: 1, falseStretches: 1 });
    expect(found(300, 320)).toEqual({ found: 0, true: 1, falseStretches: 1 });
  });

  it("match boundaries within a distance", () => {
    const score = scoreBoundaries([98, 150, 203], { boundaries_m: [100, 200, 300] });
    expect(score).toEqual({ found: 2, true: 3, falseBoundaries: 1 });
  });
});
