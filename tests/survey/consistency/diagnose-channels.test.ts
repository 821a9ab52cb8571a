// Slips in the description of sound readings are named; the truth is what was done to them.
import { describe, expect, it } from "vitest";
import type { Campaign } from "../../../lib/index.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { diagnoseChannels } from "../../../lib/survey/consistency/diagnose-channels.js";
import { diagnosisText } from "../../../lib/survey/consistency/sentences.js";
import { campaignsOf, type InstrumentKind, makeSurvey } from "../../abroad/index.js";
import { described, otherPart, rescaled } from "./spoiled-campaigns.js";

const PLAN = { seed: 4711, ground: "blocks", errors: "field", length_m: 80 } as const;

const sound = (instrument: InstrumentKind): Campaign =>
  campaignsOf(makeSurvey({ ...PLAN, instrument }))[0]!;

const FIVE = "five frequencies HCP";
const THREE = "three separations HCP";
const BOTH = "five frequencies HCP, VCP";
const SHOWN = "2 and 4 m, mS/m";

describe("diagnoseChannels", () => {
  it.each([FIVE, THREE, BOTH, SHOWN] as const)("has nothing to say of %s as declared", (kind) => {
    const diagnosis = diagnoseChannels(sound(kind));
    expect(diagnosis.misfit).toBeLessThan(1);
    expect(diagnosisText(diagnosis)).toBeNull();
  });

  it("sees the two parts of the response exchanged, and says so", () => {
    const diagnosis = diagnoseChannels(described(otherPart)(sound(FIVE)));
    expect(diagnosis.explained[0]?.text).toBe("quadrature and in-phase were exchanged");
    expect(diagnosisText(diagnosis)).toMatch(/^no layered ground fits .* as if /);
  });

  it("names the channels furthest off where no slip explains them", () => {
    const gain = rescaled((field) => (field.startsWith("q_180cm_25000Hz") ? 2.6 : 1));
    const diagnosis = diagnoseChannels(gain(sound(FIVE)));
    expect(diagnosis.explained).toEqual([]);
    expect(diagnosis.odd[0]?.field).toBe("q_180cm_25000Hz_hcp");
    expect(diagnosis.odd[0]?.ratio).toBeCloseTo(2.6, 0);
    expect(diagnosisText(diagnosis)).toContain("furthest off, q_180cm_25000Hz_hcp reads 2.");
  });

  it("leaves no misfit over 3 without a word", () => {
    expect(diagnosisText({ misfit: 3.1, explained: [], odd: [] })).toMatch(/no single channel/);
    expect(diagnosisText({ misfit: 2.9, explained: [], odd: [] })).toBeNull();
    const random = seededRandom(3);
    for (let k = 0; k < 12; k++) {
      const factors = new Map<string, number>();
      const factorOf = (field: string) => {
        const known = factors.get(field) ?? Math.exp(1.5 * random.normal());
        factors.set(field, known);
        return known;
      };
      const diagnosis = diagnoseChannels(rescaled(factorOf)(sound(SHOWN)));
      expect(diagnosis.misfit > 3).toBe(diagnosisText(diagnosis) !== null && diagnosis.misfit > 3);
    }
  });

  it("has no say without readings", () => {
    const campaign = sound(SHOWN);
    const bare = { ...campaign, passes: [] };
    expect(diagnosisText(diagnoseChannels(bare))).toBeNull();
  });
});
