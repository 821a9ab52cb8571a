import { describe, expect, it } from "vitest";
import { hydraulicsAlong } from "../../../lib/seepage/hydraulics/hydraulics-along.js";
import { seepageDefaults } from "../../../lib/seepage/options.js";
import type { Borehole, Survey } from "../../../lib/survey/survey.js";
import { expectClose } from "../../support/expect-close.js";
import { smallSurvey } from "../../support/small-survey.js";

const { hydraulics } = seepageDefaults;
const fixed = (value: number) => [value, value] as const;
/** Everything but the thicknesses is certain. */
const certain = {
  ...hydraulics,
  riverside_m: fixed(100),
  landside_m: fixed(100),
  aquiferThickness_m: fixed(20),
  aquiferConductivity_m_per_s: fixed(5e-4),
  blanketConductivity_m_per_s: fixed(1e-6),
  saturatedUnitWeight_kN_per_m3: fixed(18.5),
};
const ends = { from_m: 0, to_m: 800 };
const along = (survey: Survey, over: Partial<typeof hydraulics> = {}) =>
  hydraulicsAlong(
    [],
    { survey, toe: null, ...ends },
    {
      ...seepageDefaults,
      hydraulics: { ...hydraulics, ...over },
    },
  ).stretches;

/** A hole through a blanket of clay on sand and into clay again, from the crest at 6.2 m. */
const hole = (chainage_m: number, blanket_m: number): Borehole => ({
  borehole: `BH${chainage_m}`,
  ...{ chainage_m, offset_m: 0, elevation_m: 6.2, depth_m: 12, laboratory: [] },
  strata: [
    { top_m: 0, base_m: 3.8 + blanket_m, soil: "siCl", description: "" },
    { top_m: 3.8 + blanket_m, base_m: 11, soil: "Sa", description: "" },
    { top_m: 11, base_m: 12, soil: "Cl", description: "" },
  ],
});

describe("hydraulics of stretches", () => {
  it("meet blanket theory between its blocked and open ends where nothing is uncertain", () => {
    // H 4 m, L1 = L3 = 100 m, base 30 m, d 20 m, k_f 5e-4, k_b 1e-6 m/s, z_b 2 m: exit gradients
    // 1.333450 blocked and 0.851640 open (methods, section 7: calc).
    const shape = { crestElevation_m: 4, foundationElevation_m: 0, crestWidth_m: 10 };
    const survey = smallSurvey({
      crossSectionAt: () => ({ ...shape, watersideSlope: 2.5, landsideSlope: 2.5 }),
      designWaterLevel_m: 4,
    });
    const [first] = along(survey, { ...certain, blanketThickness_m: fixed(2) });
    // What is declared as certain is drawn to a thousandth.
    expectClose(first!.hydraulics!.exitGradient.p10, 0.85164, { relative: 0.005 });
    expectClose(first!.hydraulics!.exitGradient.p90, 1.33345, { relative: 0.005 });
    expectClose(first!.hydraulics!.creep.bligh, (2 + 30) / 4, { relative: 0.01 });
  });

  it("tell no stretch from another where cross-section and ground are the same everywhere", () => {
    const stretches = along(smallSurvey());
    expect(stretches).toHaveLength(16);
    for (const { exitGradient, hydraulics: found, why } of stretches) {
      expect(exitGradient).toBeNull();
      expect(found!.exitGradient.p50).toBeGreaterThan(0);
      expect(why).toContain("do not tell this stretch from its neighbours");
    }
  });

  it("tell stretches apart near holes, and put the highest gradient where the blanket is thinnest", () => {
    const boreholes = [hole(125, 0.8), hole(425, 1.6), hole(725, 2.4)];
    const stretches = along(smallSurvey({ boreholes }));
    const told = [125, 425, 725].map(
      (x) => stretches.find(({ from_m, to_m }) => x >= from_m && x < to_m)!,
    );
    const medians = told.map(({ exitGradient }) => exitGradient!.p50);
    expect(medians[0]).toBeGreaterThan(medians[1]!);
    expect(medians[1]).toBeGreaterThan(medians[2]!);
    const between = stretches.find(({ from_m }) => from_m === 250)!;
    expect(between.exitGradient).toBeNull();
    expect(told[0]!.hydraulics!.sources).toContain("BH125, 0 m away");
  });

  it("tell stretches apart by their cross-sections where these differ more than the ground may", () => {
    const base = smallSurvey().crossSectionAt(0);
    const survey = smallSurvey({
      crossSectionAt: (x) => ({ ...base, foundationElevation_m: x < 400 ? 5 : 1 }),
    });
    const stretches = along(survey, { blanketThickness_m: [1.4, 1.6], aquiferThickness_m: [5, 6] });
    const [low, high] = [stretches[0]!.exitGradient!, stretches.at(-1)!.exitGradient!];
    expect(high.p50).toBeGreaterThan(2 * low.p50);
  });

  it("say what a measurement would buy: the input that is known best leaves the least spread", () => {
    const shareOf = (survey: Survey) =>
      along(survey)[2]!.hydraulics!.shares.find(({ input }) => input === "blanket thickness")!
        .share;
    const open = shareOf(smallSurvey());
    const drilled = shareOf(smallSurvey({ boreholes: [hole(125, 1.5)] }));
    expect(open).toBeGreaterThan(0.05);
    expect(drilled).toBeLessThan(open / 2);
  });

  it.each([
    ["no design water level", { designWaterLevel_m: null }, "No design water level"],
    ["no head", { designWaterLevel_m: 2.4 }, "below the toe"],
  ])("are null with %s", (_, sketch, why) => {
    for (const one of along(smallSurvey(sketch))) {
      expect(one.hydraulics).toBeNull();
      expect(one.exitGradient).toBeNull();
      expect(one.why).toContain(why);
    }
  });
});
