import { describe, expect, it } from "vitest";
import { crestElevationAt } from "../../../lib/survey/bank/crest-elevation.js";
import {
  crestProfileFrom,
  crossSectionsFrom,
} from "../../../lib/survey/read/read-cross-section.js";
import { openFolder as open } from "../../place/support/opened.js";
import { wholeSurvey } from "../support/survey-folder.js";

describe("the cross-section", () => {
  it("is interpolated; constants are taken for the rest", async () => {
    const { value } = await open(wholeSurvey());
    expect(value.crossSectionAt(50)).toEqual({
      crestWidth_m: 4,
      crestElevation_m: 6.15,
      foundationElevation_m: null,
      watersideSlope: null,
      landsideSlope: null,
    });
    expect(value.crossSectionAt(300).crestElevation_m).toBe(6);
    expect(value.crossSectionAt(-5).crestElevation_m).toBe(6.2);
  });

  it("gives campaigns the crest: the table's, else the constant, else none", async () => {
    const survey = wholeSurvey();
    const { value } = await open(survey);
    const table = { chainage_m: [0, 200], elevation_m: [6.2, 6] };
    expect(value.campaigns.map(({ crest }) => crest)).toEqual(value.campaigns.map(() => table));
    expect(crestElevationAt(table, 50)).toBe(value.crossSectionAt(50).crestElevation_m);
    expect(crestElevationAt(table, Number.NaN)).toBeNaN();
    const constant = { chainage_m: [0], elevation_m: [6.2] };
    expect(crestProfileFrom({ crestElevation_m: 6.2 }, [])).toEqual(constant);
    expect(crestElevationAt(constant, 700)).toBe(6.2);
    expect(crestProfileFrom({}, [])).toBeNull();
  });

  it("goes with the campaigns, at every chainage of the tables", async () => {
    const { value } = await open(wholeSurvey());
    for (const { crossSections } of value.campaigns) {
      expect(crossSections?.chainage_m).toEqual([0, 200]);
      expect(crossSections?.section).toEqual([0, 200].map(value.crossSectionAt));
      expect(crossSections?.waterside).toBe(value.waterside);
    }
    expect(crossSectionsFrom({}, [])).toBeNull();
    const constant = crossSectionsFrom({ crestWidth_m: 4, waterside: "right" }, []);
    expect(constant?.chainage_m).toEqual([0]);
    expect(constant?.section[0]?.crestWidth_m).toBe(4);
    expect(constant?.waterside).toBe("right");
  });
});
