import { describe, expect, it } from "vitest";
import {
  classShares,
  laboratoryMean,
  principalFraction,
} from "../../../lib/boreholes/soils/logged.js";
import { predictSoils } from "../../../lib/boreholes/soils/predict-soils.js";
import { expectClose } from "../../support/expect-close.js";
import { expectFault } from "../../support/expect-fault.js";
import { blocks, hole, isSand, slices, surveyWith } from "../support/small-bank.js";

const HOLES = [60, 230, 350, 460, 610, 750];

describe("predictSoils", () => {
  const survey = surveyWith(HOLES.map((x) => hole(x)));
  const result = predictSoils({ survey, slices, blocks });
  const { value } = result;

  it("tells clay from sand along the bank, and by leaving a borehole out", () => {
    expect(value.refused).toBeNull();
    const [clay, sand] = ["Cl", "Sa"].map(
      (soil) => value.classes.find((one) => one.soil === soil)!,
    );
    const right = Array.from(value.chainage_m, (x, i) => {
      const probable = isSand(x) ? sand! : clay!;
      return probable.probability[1]![i]! > 0.5;
    });
    // Within 6 m of the boundary a place sees both.
    expect(right.filter((one) => !one).length).toBeLessThanOrEqual(2);
    expect(value.classesLeftOut).toEqual({ right: 18, count: 18, commonestRight: 0 });
  });

  it("tells fines within its band at the boreholes, with an error under that of the mean", () => {
    const fines = value.properties.find(({ name }) => name === "fines")!;
    expect(fines.leftOut.rms).toBeLessThan(0.3 * fines.leftOut.meanOnlyRms);
    expect(fines.leftOut.count).toBe(18);
    for (const sample of fines.samples) {
      expect(sample.others.p10).toBeLessThan(sample.others.p50);
      expect(sample.others.p50).toBeLessThan(sample.others.p90);
    }
    expect(fines.slope.mean).toBeLessThan(0);
  });

  it("gives probabilities that add up to 1, and bands between 0 and 100 %", () => {
    for (let i = 0; i < value.chainage_m.length; i++) {
      const total = value.classes.reduce((sum, one) => sum + one.probability[0]![i]!, 0);
      expectClose(total, 1, { absolute: 1e-9 });
      const fines = value.properties[0]!;
      expect(fines.p10[0]![i]).toBeGreaterThan(0);
      expect(fines.p90[0]![i]).toBeLessThan(100);
    }
  });

  it("refuses below three boreholes and says why", () => {
    const two = predictSoils({ survey: surveyWith([hole(60), hole(610)]), slices, blocks });
    expect(two.value.refused).toContain("2 of the 3 boreholes that are needed");
    expect(two.value.properties).toEqual([]);
    expect(two.value.classes).toEqual([]);
    expect(two.summary).toContain("Soils are not predicted");
    expect(two.figures).toEqual([]);
  });

  it("does not count boreholes off the walked line", () => {
    const toe = [60, 230, 350, 460].map((x) => hole(x, { offset_m: x > 100 ? -14 : 0 }));
    const { refused } = predictSoils({ survey: surveyWith(toe), slices, blocks }).value;
    expect(refused).toContain("3 more lie off it");
  });

  it("says so where nothing was logged, and where only strata were", () => {
    const bare = HOLES.map((x) => hole(x, { strata: [], laboratory: [] }));
    expect(predictSoils({ survey: surveyWith(bare), slices }).value.refused).toContain("strata");
    const logged = HOLES.map((x) => hole(x, { laboratory: [] }));
    const strata = predictSoils({ survey: surveyWith(logged), slices });
    expect(strata.value.properties).toEqual([]);
    expect(strata.value.classes.length).toBe(2);
    expect(strata.cautions.some(({ text }) => text.includes("strata alone"))).toBe(true);
  });

  it("says at which temperature it relates", () => {
    expect(value.at25).toBe(false);
    expect(result.cautions.some(({ text }) => text.includes("field temperature"))).toBe(true);
  });

  it("names every fault of its options", () => {
    const bad = () => predictSoils({ survey, slices }, { near_m: 0, step_m: Number.NaN });
    expectFault(bad, "option-range options.near_m must be a number above 0 m, got 0");
    expectFault(bad, "option-range options.step_m must be a number above 0 m, got NaN");
  });
});

describe("what was logged", () => {
  const slice = { top_m: 1, base_m: 3 };
  const fines = ({ fines_pct }: { readonly fines_pct: number | null }) => fines_pct;

  it("is a mean over strata by their thickness in the slice", () => {
    const two = hole(60, {
      strata: [
        { top_m: 0, base_m: 1.5, soil: "siCl", description: "" },
        { top_m: 1.5, base_m: 7, soil: "Sa", description: "" },
      ],
    });
    // Samples at 0.5 m (85.5 %) and at 1.7 and 3.5 m (mean 87.6 %): 0.5 m and 1.5 m of the slice.
    expectClose(laboratoryMean(two, slice, fines)!, (0.5 * 85.5 + 1.5 * 87.6) / 2, {
      absolute: 1e-9,
    });
    expect(classShares(two.strata, slice)).toEqual(
      new Map([
        ["Cl", 0.25],
        ["Sa", 0.75],
      ]),
    );
  });

  it("counts for nothing where it covers less than 60 % of a slice", () => {
    const short = hole(60, { strata: [{ top_m: 0, base_m: 2, soil: "Cl", description: "" }] });
    expect(laboratoryMean(short, slice, fines)).toBeNull();
    expect(classShares(short.strata, slice)).toBeNull();
  });

  it.each([
    ["grSa", "Sa"],
    ["MSa", "Sa"],
    ["grsaSi", "Si"],
    ["siCl", "Cl"],
    ["Or", "Or"],
    ["", ""],
  ])("reads the principal fraction of %s as %s (ISO 14688-1)", (soil, principal) => {
    expect(principalFraction(soil)).toBe(principal);
  });
});
