import { describe, expect, it } from "vitest";
import { estimateDepthSlices } from "../../../lib/depth/estimate-depth-slices.js";
import { median } from "../../../lib/numerics/statistics/robust.js";
import type { SectionName } from "../../abroad/earth/slopes.js";
import { type MadeSurvey, makeSurvey, type SurveyPlan } from "../../abroad/survey.js";
import { campaignsOf } from "../../abroad/written/in-memory.js";

const SLICES = [
  { top_m: 0, base_m: 1 },
  { top_m: 1, base_m: 2.4 },
  { top_m: 2.4, base_m: 3.9 },
];
const INSTRUMENTS = ["five frequencies HCP, VCP", "three separations HCP, VCP"] as const;

/** Sizes of the bias of each slice, ln units: estimates on the bank less those without slopes. */
async function biasOf(section: SectionName, instrument: SurveyPlan["instrument"]) {
  const plan = { seed: 4100, instrument, errors: "exact", length_m: 12 } as const;
  const onBank = makeSurvey({ ...plan, ground: "blocks", slopes: { bank: "narrow", section } });
  const column = onBank.slopes!.column!;
  const along = { kind: "section", length_m: 12, boundaries_m: [], columnAt: () => column };
  const level = await slicesOf(makeSurvey({ ...plan, ground: along }), "leave");
  const off = async (shape: "apply" | "leave") =>
    (await slicesOf(onBank, shape)).map((values, k) =>
      Math.abs(median(values.map((value, i) => Math.LN10 * (value - level[k]![i]!)))),
    );
  return { apply: await off("apply"), leave: await off("leave") };
}

async function slicesOf(made: MadeSurvey, shape: "apply" | "leave") {
  const { value } = await estimateDepthSlices(campaignsOf(made)[0]!, { slices: SLICES, shape });
  return value.log10Resistivity;
}

// Truth: finite elements in the cross-section with charges at every contact (bank-factors.py).
describe("depth slices on a bank with slopes", () => {
  it("are those of level ground within 4 % where the bank is of one material", async () => {
    for (const instrument of INSTRUMENTS) {
      const { apply, leave } = await biasOf("homogeneous", instrument);
      expect(Math.max(...apply)).toBeLessThan(0.04);
      expect(Math.max(...leave)).toBeGreaterThan(0.25);
    }
  });

  it("are off by a few percent on other materials, where they were off by half", async () => {
    const all = { apply: [] as number[], leave: [] as number[] };
    for (const section of ["on clay", "on sand"] as const) {
      for (const instrument of INSTRUMENTS) {
        const { apply, leave } = await biasOf(section, instrument);
        all.apply.push(...apply);
        all.leave.push(...leave);
      }
    }
    expect(median(all.apply)).toBeLessThan(0.04);
    // Five frequencies on clay: charges at the contact, and what in-phase loses, add up.
    expect(Math.max(...all.apply)).toBeLessThan(0.25);
    expect(median(all.leave)).toBeGreaterThan(0.25);
  });
});
